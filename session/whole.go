package session

import (
	"os"
	"path/filepath"
)

// WriteWhole writes a file beside its place and renames it into it, so that
// under the name stands either the old file or the whole new one, whatever
// happens meanwhile. The file is private to the user. What is no plain file, as a
// link or a device, is not replaced but refused.
func WriteWhole(path string, data []byte) (err error) {
	defer func() {
		if err != nil {
			err = &NotKeptError{What: "the file", Path: path, Err: err}
		}
	}()
	if i, err := os.Lstat(path); err == nil && !i.Mode().IsRegular() {
		return errNotPlain
	}
	dir := filepath.Dir(path)
	f, err := os.CreateTemp(dir, ".hotlug-*") // made with 0600
	if err != nil {
		return err
	}
	defer os.Remove(f.Name()) // fails once it has been renamed, which is as it should be
	if _, err = f.Write(data); err == nil {
		err = f.Sync()
	}
	if e := f.Close(); err == nil {
		err = e
	}
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err == nil {
		err = syncDir(dir)
	}
	return err
}
