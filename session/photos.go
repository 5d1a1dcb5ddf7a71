package session

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"sync"
	"time"

	"hotlug/session/photo"
)

// Photo is a picture that was attached: a copy beside the journal.
type Photo struct {
	File   string `json:"file"`            // photo-1.jpg, in the session's folder for photos
	Name   string `json:"name,omitempty"`  // as it was called where it came from
	About  string `json:"about,omitempty"` // what was asked at that moment
	Width  int    `json:"width"`           // pixels
	Height int    `json:"height"`          // pixels
	Sum    string `json:"sha256"`          // of the copy
}

// MostPhotos is how many pictures a session may hold: a ticket of more is not
// looked at to its end.
const MostPhotos = 30

const photoSuffix = ".photos"

// photoFile is what a copy may be called. A journal that names another file is
// damaged, or somebody wants another file to be sent.
var photoFile = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^photo-[1-9][0-9]?\.(jpg|png)$`) })

// check says what is wrong with a photo's line.
func (p Photo) check() error {
	if !photoFile().MatchString(p.File) {
		return fmt.Errorf("holds a photo in %q, which is none of the session's", clip(p.File))
	}
	return nil
}

// Photo keeps a picture: its copy first, then the line that names it, so that no
// line ever names what is not there. n is its number, counted from 1.
func (j *Journal) Photo(p photo.Picture, n int, name, about string, at time.Time) (Photo, error) {
	if n > MostPhotos {
		return Photo{}, &NotKeptError{What: "the photo", Path: j.path, Err: fmt.Errorf("a session may hold %d of them", MostPhotos)}
	}
	sum := sha256.Sum256(p.Data)
	e := Photo{File: fmt.Sprintf("photo-%d.%s", n, p.Ending), Name: name, About: about, Width: p.Width, Height: p.Height, Sum: hex.EncodeToString(sum[:])}
	dir := photoDir(j.path)
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return e, &NotKeptError{What: "the photo", Path: dir, Err: err}
	}
	if i, err := os.Lstat(dir); err != nil || !i.IsDir() {
		return e, &NotKeptError{What: "the photo", Path: dir, Err: errors.New("it is no folder")}
	}
	path := filepath.Join(dir, e.File)
	if err := WriteWhole(path, p.Data); err != nil {
		return e, err
	}
	if err := j.append("the photo", Entry{At: at, Photo: &e}); err != nil {
		os.Remove(path)
		return e, err
	}
	return e, nil
}

// photoDir is the folder for the photos of the journal at a path.
func photoDir(journal string) string {
	return journal[:len(journal)-len(suffix)] + photoSuffix
}

// PhotoDir is the folder that a session's photos are in, if it has any.
func (s *Store) PhotoDir(id string) string { return photoDir(s.path(id)) }

// PhotoData reads a photo's copy. It must be the very one that was kept.
func (s *Store) PhotoData(id string, p Photo) ([]byte, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	if i, err := os.Lstat(s.PhotoDir(id)); err != nil || !i.IsDir() {
		return nil, fmt.Errorf("%s is not there", p.File)
	}
	f, err := openPlain(filepath.Join(s.PhotoDir(id), p.File), os.O_RDONLY)
	if err != nil {
		return nil, fmt.Errorf("%s can't be read: %w", p.File, err)
	}
	defer f.Close()
	b, err := io.ReadAll(io.LimitReader(f, photo.MostKept+1))
	if err != nil {
		return nil, fmt.Errorf("%s can't be read: %w", p.File, err)
	}
	if sum := sha256.Sum256(b); hex.EncodeToString(sum[:]) != p.Sum {
		return nil, fmt.Errorf("%s is not the picture that was attached", p.File)
	}
	return b, nil
}

// removePhotos deletes a session's photos, and nothing else that may lie there.
func (s *Store) removePhotos(id string) error {
	dir := s.PhotoDir(id)
	i, err := os.Lstat(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil || !i.IsDir() {
		return fmt.Errorf("the photos of session %s could not be deleted: %s is no folder", id, dir)
	}
	files, err := os.ReadDir(dir)
	if err != nil {
		return fmt.Errorf("the photos of session %s could not be deleted: %w", id, err)
	}
	for _, f := range files {
		if photoFile().MatchString(f.Name()) {
			if err := os.Remove(filepath.Join(dir, f.Name())); err != nil {
				return fmt.Errorf("the photos of session %s could not be deleted: %w", id, err)
			}
		}
	}
	if err := os.Remove(dir); err != nil {
		return fmt.Errorf("the folder of session %s's photos could not be deleted: %w", id, err)
	}
	return nil
}
