package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"hotlug/cmd/hotlug/term"
	"hotlug/engine/drill"
)

// mostScores is far more than a working life of drills.
const mostScores = 8 << 20

// scoreBook is a trainee's file: a line of JSON for each drill. It is only ever
// appended to, so nothing in it can be lost, and a line is on disk before it
// counts. A line that can't be read, or that a power cut has torn, stays in the
// file, is told by its number, and is left out.
type scoreBook struct {
	path string
	warn func(string)
}

// openScores gives the file of a trainee. The name becomes a file name: small
// letters, digits and dashes.
func (a *app) openScores(name string) (*scoreBook, error) {
	id, ok := fileName(name)
	if !ok {
		return nil, badInputf("%s can't be a trainee's name; %s", quote(term.SafeLine(name)), safeNameHint)
	}
	dir, err := a.dataFolder("drills")
	if err != nil {
		return nil, err
	}
	return &scoreBook{
		path: filepath.Join(dir, id+".jsonl"),
		warn: func(text string) { fmt.Fprintf(a.err, "hotlug: %s\n", text) },
	}, nil
}

// read gives the scores so far. Lines that can't be read are told and left out.
func (b *scoreBook) read() ([]drill.Score, error) {
	f, err := b.open(os.O_RDONLY)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	src, err := io.ReadAll(io.LimitReader(f, mostScores+1))
	switch {
	case err != nil:
		return nil, badInputf("the scores can't be read: %v", err)
	case len(src) > mostScores:
		return nil, badInputf("%s is larger than any file of scores; move it away", b.path)
	}
	var out []drill.Score
	var bad []string
	n := 0
	for line := range bytes.Lines(src) {
		n++
		line = bytes.TrimSpace(line)
		var s drill.Score
		switch {
		case len(line) == 0:
		case json.Unmarshal(line, &s) != nil || !s.Sound():
			bad = append(bad, fmt.Sprint(n))
		default:
			out = append(out, s)
		}
	}
	const named = 5
	switch {
	case len(bad) == 1:
		b.warn(fmt.Sprintf("line %s of %s can't be read, so that drill is left out. The others are all there", bad[0], b.path))
	case len(bad) > named:
		b.warn(fmt.Sprintf("%d lines of %s can't be read, so those drills are left out: %s and more. The others are all there",
			len(bad), b.path, strings.Join(bad[:named], ", ")))
	case len(bad) > 1:
		b.warn(fmt.Sprintf("lines %s of %s can't be read, so those drills are left out. The others are all there", strings.Join(bad, ", "), b.path))
	}
	return out, nil
}

// open opens the file if it is a plain one. What lies there instead, a link or a
// pipe, is not followed.
func (b *scoreBook) open(flag int) (*os.File, error) {
	i, err := os.Lstat(b.path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if flag&os.O_CREATE == 0 {
			return nil, fs.ErrNotExist
		}
		flag |= os.O_EXCL
	case err != nil:
		return nil, badInputf("the scores can't be used: %v", err)
	case !i.Mode().IsRegular():
		return nil, badInputf("%s is no plain file, so no scores are kept in it", b.path)
	}
	f, err := os.OpenFile(b.path, flag, 0o600)
	if err != nil {
		return nil, badInputf("the scores can't be used: %v", err)
	}
	now, err := f.Stat()
	if err == nil && i != nil && !os.SameFile(i, now) {
		err = errors.New("it has been exchanged just now")
	}
	if err != nil {
		f.Close()
		return nil, badInputf("the scores in %s can't be used: %v", b.path, err)
	}
	return f, nil
}

// ready finds out before a drill that its score can be kept.
func (b *scoreBook) ready() error {
	if err := os.MkdirAll(filepath.Dir(b.path), 0o700); err != nil {
		return badInputf("the score could not be kept: %v", err)
	}
	f, err := b.open(os.O_RDWR | os.O_CREATE | os.O_APPEND)
	if err != nil {
		return err
	}
	return f.Close()
}

// add appends a score, and has it on disk when it returns nil. After a line that
// was never finished it begins a new one.
func (b *scoreBook) add(s drill.Score) (err error) {
	kept := func(err error) error { return badInputf("the score could not be kept: %v", err) }
	line, err := json.Marshal(s)
	if err != nil {
		return kept(err)
	}
	if err := os.MkdirAll(filepath.Dir(b.path), 0o700); err != nil {
		return kept(err)
	}
	f, err := b.open(os.O_RDWR | os.O_CREATE | os.O_APPEND)
	if err != nil {
		return err
	}
	defer func() {
		if e := f.Close(); err == nil && e != nil {
			err = kept(e)
		}
	}()
	line = append(line, '\n')
	if torn, err := unfinished(f); err != nil {
		return kept(err)
	} else if torn {
		line = append([]byte{'\n'}, line...)
	}
	if _, err := f.Write(line); err != nil { // at once, so that two drills don't mix their lines
		return kept(err)
	}
	if err := f.Sync(); err != nil {
		return kept(err)
	}
	return nil
}

// unfinished says whether a file ends in the middle of a line.
func unfinished(f *os.File) (bool, error) {
	i, err := f.Stat()
	if err != nil || i.Size() == 0 {
		return false, err
	}
	var last [1]byte
	if _, err := f.ReadAt(last[:], i.Size()-1); err != nil {
		return false, err
	}
	return last[0] != '\n', nil
}
