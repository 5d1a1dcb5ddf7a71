//go:build unix

package main

import (
	"encoding/json"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// somePhoto writes a picture as a camera would, and gives its path.
func somePhoto(t *testing.T, name string) string {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, 120, 80))
	for i := range m.Pix {
		m.Pix[i] = byte(uint32(i) * 2654435761 >> 24)
	}
	m.Set(3, 3, color.White)
	path := filepath.Join(t.TempDir(), name)
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := jpeg.Encode(f, m, nil); err != nil {
		t.Fatal(err)
	}
	return path
}

// A photo is attached by copy; resuming, the ticket and the list of what was said
// know it; deleting the session deletes it.
func TestPhotoGoesWithItsSession(t *testing.T) {
	t.Parallel()
	data := t.TempDir()
	path := somePhoto(t, "Wren at the <b>lug.jpg")
	type step struct {
		typed string
		args  []string
	}
	id := ""
	for i, s := range []step{{"nothing charges, sun is out\nno\nphoto " + path + "\n", []string{"--plain"}}, {"photo " + path + "\n2\nlater\n", []string{"chat", "--plain", "--resume"}}} {
		if i == 1 {
			s.args = append(s.args, id)
		}
		c := hotlug(t, data, s.args...)
		c.Stdin = strings.NewReader(s.typed)
		said, _ := c.Output()
		if !strings.Contains(string(said), "Attached: a copy, photo-"+string(rune('1'+i))+".jpg, 120 by 80") {
			t.Fatalf("%s", said)
		}
		id, _ = keptIn(t, data)
	}
	os.Remove(path) // only the copy counts
	dir := filepath.Join(data, "hotlug", "sessions", id+".photos")
	for _, f := range []string{"photo-1.jpg", "photo-2.jpg"} {
		i, err := os.Stat(filepath.Join(dir, f))
		if err != nil || i.Mode().Perm() != 0o600 {
			t.Fatalf("%v %v", i, err)
		}
	}
	run := func(args ...string) string {
		t.Helper()
		out, err := hotlug(t, data, args...).CombinedOutput()
		if err != nil {
			t.Fatalf("%v: %v\n%s", args, err, out)
		}
		return string(out)
	}
	if said := run("sessions", "show", id); !strings.Contains(said, "photo: photo-2.jpg") {
		t.Errorf("%s", said)
	}
	page := run("ticket", id, "--format", "html")
	if n := strings.Count(page, `<img src="data:image/jpeg;base64,/9j/`); n != 2 {
		t.Errorf("%d pictures on the page", n)
	}
	if !strings.Contains(page, `alt="Photo 1, attached when asked for`) || strings.Contains(page, "<b>lug") {
		t.Error("the pictures are not told, or a name is not escaped")
	}
	if said := run("ticket", id); !strings.Contains(said, "photo-1.jpg") || !strings.Contains(said, "Its photos are in "+dir) {
		t.Errorf("%s", said)
	}
	var x struct{ Photos []struct{ File, Name string } }
	out, err := hotlug(t, data, "ticket", id, "--format", "json").Output()
	if err := json.Unmarshal(out, &x); err != nil || len(x.Photos) != 2 || x.Photos[1].File != "photo-2.jpg" || x.Photos[0].Name == "" {
		t.Errorf("%v %+v", err, x)
	}
	if err != nil {
		t.Error(err)
	}
	for _, form := range []string{"html", "md", "text", "json"} {
		if said := run("ticket", id, "--redact", "--format", form); strings.Contains(said, "Wren") || !strings.Contains(said, "photo-1.jpg") {
			t.Errorf("%s: the redacted copy has the photo's name, or has lost it", form)
		}
	}
	// A copy that somebody exchanged is not sent.
	if err := os.WriteFile(filepath.Join(dir, "photo-1.jpg"), []byte("secret"), 0o600); err != nil {
		t.Fatal(err)
	}
	if page := run("ticket", id, "--format", "html"); strings.Count(page, "<img") != 1 || !strings.Contains(page, "is not the picture that was attached") {
		t.Error("an exchanged picture is on the page, or it is not said")
	}
	run("sessions", "delete", id)
	if _, err := os.Stat(dir); !os.IsNotExist(err) {
		t.Errorf("the photos are left: %v", err)
	}
}
