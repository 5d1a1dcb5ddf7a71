package photo

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// corners is a picture whose upper left quarter is red and the rest blue.
func corners(w, h int) *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			c := color.RGBA{0, 0, 200, 255}
			if x < w/2 && y < h/2 {
				c = color.RGBA{200, 0, 0, 255}
			}
			m.Set(x, y, c)
		}
	}
	return m
}

func asJPEG(t testing.TB, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func asPNG(t testing.TB, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

const place = "54.4609N-GPS-3.0886W" // stands where a camera writes where it was

// exif is what a camera writes: how it was held, and where.
func exif(order binary.AppendByteOrder, held uint16) []byte {
	b := []byte("MM")
	if order == binary.LittleEndian {
		b = []byte("II")
	}
	b = order.AppendUint16(b, 42)
	b = order.AppendUint32(b, 8)
	b = order.AppendUint16(b, 2)
	b = order.AppendUint16(order.AppendUint16(b, 0x0112), 3)
	b = order.AppendUint16(order.AppendUint16(order.AppendUint32(b, 1), held), 0)
	b = order.AppendUint16(order.AppendUint16(b, 0x8825), 4) // where the GPS directory is
	b = order.AppendUint32(order.AppendUint32(b, 1), 38)
	b = order.AppendUint32(b, 0)
	return append(b, "GPS "+place...)
}

// withEXIF puts the camera's segment and a comment into a JPEG.
func withEXIF(b, exif []byte) []byte {
	seg := append([]byte("Exif\x00\x00"), exif...)
	out := append([]byte{}, b[:2]...)
	for kind, s := range map[byte][]byte{0xe1: seg} {
		out = append(out, 0xff, kind)
		out = append(binary.BigEndian.AppendUint16(out, uint16(len(s)+2)), s...)
	}
	out = append(out, 0xff, 0xfe, 0, byte(len(place)+2))
	out = append(out, place...)
	out = append(out, b[2:]...)
	return append(out, place...) // behind the picture too
}

// withChunk puts a chunk into a PNG, before its pixels.
func withChunk(b []byte, kind string, data []byte) []byte {
	const head = 8 + 25 // the beginning and IHDR
	c := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
	c = append(append(c, kind...), data...)
	c = binary.BigEndian.AppendUint32(c, crc32.ChecksumIEEE(c[4:]))
	return append(append(append([]byte{}, b[:head]...), c...), b[head:]...)
}

// No place, comment or preview is in the copy, and it is turned as it was held.
func TestNothingButPixels(t *testing.T) {
	where := map[int][2]bool{1: {false, false}, 2: {true, false}, 3: {true, true}, 4: {false, true}, 5: {false, false}, 6: {true, false}, 7: {true, true}, 8: {false, true}}
	for held := 1; held <= 8; held++ {
		for name, order := range map[string]binary.AppendByteOrder{"big": binary.BigEndian, "little": binary.LittleEndian} {
			data := exif(order, uint16(held))
			for form, src := range map[string][]byte{
				"jpeg": withEXIF(asJPEG(t, corners(80, 40)), data),
				"png":  withChunk(withChunk(asPNG(t, corners(80, 40)), "eXIf", data), "tEXt", []byte("Comment\x00"+place)),
			} {
				p, err := Clean(src)
				if err != nil {
					t.Fatalf("%s %s %d: %v", form, name, held, err)
				}
				for _, leak := range []string{"GPS", place, "Exif", "eXIf", "tEXt", "54.4609"} {
					if bytes.Contains(p.Data, []byte(leak)) {
						t.Errorf("%s %s %d: %q is in the copy", form, name, held, leak)
					}
				}
				m, _, err := image.Decode(bytes.NewReader(p.Data))
				if err != nil {
					t.Fatal(err)
				}
				w, h := 80, 40
				if held >= 5 {
					w, h = 40, 80
				}
				if m.Bounds().Dx() != w || m.Bounds().Dy() != h || p.Width != w || p.Height != h {
					t.Errorf("%s %d: %v, want %d by %d", form, held, m.Bounds(), w, h)
					continue
				}
				x, y := w/4, h/4
				if where[held][0] {
					x = 3 * w / 4
				}
				if where[held][1] {
					y = 3 * h / 4
				}
				if r, _, b, _ := m.At(x, y).RGBA(); r < b {
					t.Errorf("%s %s: held as %d, the red corner is not at %d, %d", form, name, held, x, y)
				}
			}
		}
	}
}

func TestSmaller(t *testing.T) {
	for _, c := range []struct{ w, h, ww, wh int }{{3200, 1600, 1600, 800}, {100, 50, 100, 50}, {10, 8000, 2, 1600}, {1, 1, 1, 1}} {
		p, err := Clean(asPNG(t, corners(c.w, c.h)))
		if err != nil || p.Width != c.ww || p.Height != c.wh {
			t.Errorf("%d by %d becomes %d by %d, want %d by %d: %v", c.w, c.h, p.Width, p.Height, c.ww, c.wh, err)
		}
	}
}

// bomb is a PNG that says it has so many pixels.
func bomb(w, h uint32) []byte {
	b := []byte("\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR")
	b = binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(b, w), h)
	b = append(b, 8, 6, 0, 0, 0)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[12:]))
}

func TestRefused(t *testing.T) {
	dir := t.TempDir()
	put := func(name string, b []byte) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, b, 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	good := put("good.jpg", asJPEG(t, corners(8, 8)))
	if _, err := Take(good); err != nil {
		t.Fatal(err)
	}
	link := filepath.Join(dir, "link.jpg")
	if err := os.Symlink(good, link); err != nil {
		t.Fatal(err)
	}
	whole := asJPEG(t, corners(64, 64))
	sixteen := image.NewNRGBA64(image.Rect(0, 0, 2, 2))
	if _, err := Clean(asPNG(t, sixteen)); err != nil {
		t.Errorf("a small one of 16 bits: %v", err)
	}
	big := put("big.jpg", nil)
	if err := os.Truncate(big, MostBytes+1); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ name, path, want string }{
		{"nothing there", filepath.Join(dir, "none.jpg"), "no such file"},
		{"a folder", dir, "no plain file"},
		{"a link", link, "a link"},
		{"a device", os.DevNull, "no plain file"},
		{"empty", put("empty.jpg", nil), "neither a JPEG nor a PNG"},
		{"a page", put("page.jpg", []byte("<svg onload=alert(1)>")), "neither a JPEG nor a PNG"},
		{"another kind of picture", put("x.gif", []byte("GIF89a\x01\x00\x01\x00")), "neither a JPEG nor a PNG"},
		{"the beginning only", put("half.jpg", whole[:len(whole)/2]), "no whole picture"},
		{"the first bytes", put("magic.png", []byte("\x89PNG\r\n\x1a\n")), "no whole picture"},
		{"very many pixels", put("bomb.png", bomb(29999, 29999)), "more than a photo has"},
		{"a very long side", put("long.png", bomb(1, 1<<30)), "more than a photo has"},
		{"too large", big, "larger than 32 MiB"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Take(c.path)
			var refused *RefusedError
			if !errors.As(err, &refused) || !strings.Contains(refused.What, c.want) {
				t.Errorf("%v, want %q", err, c.want)
			}
		})
	}
}

// Any bytes are refused or become a whole picture of no more than its size.
func FuzzClean(f *testing.F) {
	f.Add(withEXIF(asJPEG(f, corners(9, 7)), exif(binary.BigEndian, 6)))
	f.Add(withChunk(asPNG(f, corners(9, 7)), "eXIf", exif(binary.LittleEndian, 3)))
	f.Fuzz(func(t *testing.T, b []byte) {
		if len(b) > 1<<16 {
			return
		}
		p, err := Clean(b)
		if err != nil {
			return
		}
		c, _, err := image.DecodeConfig(bytes.NewReader(p.Data))
		if err != nil || c.Width != p.Width || c.Height != p.Height || max(c.Width, c.Height) > keptSide || len(p.Data) > MostKept {
			t.Errorf("%d by %d of %d bytes: %v", p.Width, p.Height, len(p.Data), err)
		}
	})
}
