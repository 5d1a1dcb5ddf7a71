package session

import (
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"

	"github.com/adrg/xdg"
	"github.com/gofrs/flock"
)

const (
	suffix     = ".jsonl"
	lockSuffix = ".lock"
)

// DefaultDir is the folder for sessions among the user's data, by the XDG rules
// and their like on other systems.
func DefaultDir() (string, error) {
	xdg.Reload()
	if !filepath.IsAbs(xdg.DataHome) {
		return "", errors.New("no home folder is known, so sessions have no place. Name a folder with --data DIR")
	}
	return filepath.Join(xdg.DataHome, "hotlug", "sessions"), nil
}

// Store is a folder of sessions.
type Store struct {
	dir    string
	random io.Reader
}

// Open gives the store in a folder; "" stands for [DefaultDir]. The folder is
// made, private to the user, when the first session is created in it.
func Open(dir string) (*Store, error) {
	if dir == "" {
		d, err := DefaultDir()
		if err != nil {
			return nil, err
		}
		dir = d
	}
	abs, err := filepath.Abs(dir)
	if err != nil {
		return nil, fmt.Errorf("the folder for sessions can't be used: %w", err)
	}
	if i, err := os.Stat(abs); err == nil && !i.IsDir() {
		return nil, fmt.Errorf("%s is no folder, so sessions can't be kept in it. Name another with --data DIR", abs)
	}
	return &Store{dir: abs, random: rand.Reader}, nil
}

// Dir is the store's folder, as an absolute path.
func (s *Store) Dir() string { return s.dir }

func (s *Store) path(id string) string { return filepath.Join(s.dir, id+suffix) }

// Create begins a session. The header's Created is the caller's; its Format and ID
// are set here. When it returns nil, the header is on disk and the session is
// locked until Close.
func (s *Store) Create(h Header) (*Journal, error) {
	notKept := func(err error) error { return &NotKeptError{What: "a new session", Path: s.dir, Err: err} }
	if err := os.MkdirAll(s.dir, 0o700); err != nil {
		return nil, notKept(err)
	}
	h.Format = Format
	h.Created = h.Created.Round(0)
	const tries = 100 // ids of one second differ in 15 bits; a hundred misses are no chance
	for range tries {
		id, err := NewID(h.Created, s.random)
		if err != nil {
			return nil, err
		}
		h.ID = id
		line, err := seal(h, MaxHeader)
		if err != nil {
			return nil, notKept(err)
		}
		lock, err := s.lock(id)
		var busy *BusyError
		if errors.As(err, &busy) {
			continue
		}
		if err != nil {
			return nil, notKept(err)
		}
		f, err := os.OpenFile(s.path(id), os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o600)
		if errors.Is(err, fs.ErrExist) {
			lock.Close()
			continue
		}
		if err != nil {
			lock.Close()
			os.Remove(lock.Path())
			return nil, notKept(err)
		}
		j := &Journal{header: h, path: s.path(id), f: f, lock: lock}
		err = j.write(line)
		if err == nil {
			err = syncDir(s.dir)
		}
		if err != nil {
			os.Remove(j.path)
			j.Close()
			os.Remove(lock.Path())
			return nil, notKept(err)
		}
		return j, nil
	}
	return nil, notKept(errors.New("no free id was found"))
}

// Resume opens a session to go on with it, and gives its entries in order. A last
// line that was never finished is cut off first. With damage it gives what can be
// read and a [DamagedError], and no journal.
func (s *Store) Resume(id string) (*Journal, []Entry, Report, error) {
	id, err := s.exists(id)
	if err != nil {
		return nil, nil, Report{}, err
	}
	lock, err := s.lock(id)
	if err != nil {
		return nil, nil, Report{}, err
	}
	j, entries, rep, err := s.resume(id, lock)
	if err != nil {
		lock.Close()
		return nil, entries, rep, err
	}
	return j, entries, rep, nil
}

func (s *Store) resume(id string, lock *flock.Flock) (*Journal, []Entry, Report, error) {
	f, err := openPlain(s.path(id), os.O_RDWR)
	if err != nil {
		return nil, nil, Report{}, &NotKeptError{What: "session " + id, Path: s.path(id), Err: err}
	}
	h, entries, rep, end, err := readAll(f, id)
	if err == nil && !rep.Sound() {
		err = &DamagedError{ID: id, Path: s.path(id), Report: rep}
	}
	if err != nil {
		f.Close()
		return nil, entries, rep, s.unusable(id, err)
	}
	j := &Journal{header: h, path: s.path(id), f: f, lock: lock, end: end, dirty: rep.Torn > 0}
	if len(entries) > 0 {
		j.n = entries[len(entries)-1].N
	}
	if err := j.mend(); err != nil {
		f.Close()
		return nil, entries, rep, &NotKeptError{What: "session " + id, Path: s.path(id), Err: err}
	}
	return j, entries, rep, nil
}

// Read gives a session as it stands, without opening it for more. What damage
// leaves out is in the report and is no error.
func (s *Store) Read(id string) (Header, []Entry, Report, error) {
	id, err := s.exists(id)
	if err != nil {
		return Header{}, nil, Report{}, err
	}
	f, err := openPlain(s.path(id), os.O_RDONLY)
	if err != nil {
		return Header{}, nil, Report{}, fmt.Errorf("session %s can't be read: %w", id, err)
	}
	defer f.Close()
	h, entries, rep, _, err := readAll(f, id)
	if err != nil {
		return h, entries, rep, s.unusable(id, err)
	}
	return h, entries, rep, nil
}

func readAll(r io.Reader, id string) (Header, []Entry, Report, int64, error) {
	var entries []Entry
	h, rep, end, err := scan(r, id, entry, func(e Entry) error {
		entries = append(entries, e)
		return nil
	})
	return h, entries, rep, end, err
}

// unusable makes of what is wrong with a file an error that names the session.
// A first line that can't be used is damage like any other.
func (s *Store) unusable(id string, err error) error {
	var newer *NewerError
	var damaged *DamagedError
	var path *fs.PathError
	switch {
	case errors.As(err, &newer), errors.As(err, &damaged):
		return err
	case errors.As(err, &path):
		return fmt.Errorf("session %s can't be read: %w", id, err)
	}
	return &DamagedError{ID: id, Path: s.path(id), Report: Report{Damage: []Damage{{Line: 1, What: err.Error()}}}}
}

// Delete removes a session for good, unless it is open.
func (s *Store) Delete(id string) error {
	id, err := s.exists(id)
	if err != nil {
		return err
	}
	lock, err := s.lock(id)
	if err != nil {
		return err
	}
	if err = s.removePhotos(id); err == nil {
		err = os.Remove(s.path(id))
	}
	name := lock.Path()
	lock.Close()
	if err != nil {
		return fmt.Errorf("session %s could not be deleted: %w", id, err)
	}
	os.Remove(name) // an empty lock file left behind does no harm
	return syncDir(s.dir)
}

// exists reads an id and says whether there is such a session.
func (s *Store) exists(text string) (string, error) {
	id, err := ParseID(text)
	if err != nil {
		return "", err
	}
	i, err := os.Lstat(s.path(id))
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "", &MissingError{ID: id, Dir: s.dir}
	case err != nil:
		return "", fmt.Errorf("session %s can't be read: %w", id, err)
	case !i.Mode().IsRegular():
		return "", fmt.Errorf("session %s can't be read: %s is no plain file", id, s.path(id))
	}
	return id, nil
}

// lock takes the session's lock or says who is in the way.
func (s *Store) lock(id string) (*flock.Flock, error) {
	name := filepath.Join(s.dir, id+lockSuffix)
	if i, err := os.Lstat(name); err == nil && !i.Mode().IsRegular() {
		return nil, fmt.Errorf("session %s can't be locked: %s is no plain file", id, name)
	}
	l := flock.New(name, flock.SetPermissions(0o600))
	ok, err := l.TryLock()
	switch {
	case err != nil:
		l.Close()
		return nil, &NotKeptError{What: "the lock of session " + id, Path: s.dir, Err: err}
	case !ok:
		l.Close()
		return nil, &BusyError{ID: id}
	}
	return l, nil
}

// openPlain opens what is a plain file both before and after it was opened.
func openPlain(path string, flag int) (*os.File, error) {
	before, err := os.Lstat(path)
	if err != nil {
		return nil, err
	}
	if !before.Mode().IsRegular() {
		return nil, errNotPlain
	}
	f, err := os.OpenFile(path, flag, 0)
	if err != nil {
		return nil, err
	}
	after, err := f.Stat()
	if err == nil && !os.SameFile(before, after) {
		err = fmt.Errorf("%s was exchanged while it was opened", path)
	}
	if err != nil {
		f.Close()
		return nil, err
	}
	return f, nil
}

// syncDir has a folder's list of names on disk. Windows keeps it by itself and
// opens no folder for that.
func syncDir(dir string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	return d.Sync()
}
