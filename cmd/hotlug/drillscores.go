package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"

	"hotlug/cmd/hotlug/term"
	"hotlug/engine/drill"
)

// mostScores is far more than a working life of drills.
const mostScores = 8 << 20

// scoreBook is a trainee's file: a line of JSON for each drill, only appended to.
// A last line without its newline was being written when the power went; it is
// left out, and cut off before the next one.
type scoreBook struct {
	path string
	warn func(string)
}

var traineeName = regexp.MustCompile(`^[a-z0-9][a-z0-9-]{0,39}$`)

// openScores gives the file of a trainee. The name becomes a file name: small
// letters, digits and dashes.
func (a *app) openScores(name string) (*scoreBook, error) {
	id := strings.ToLower(strings.Join(strings.Fields(name), "-"))
	if !traineeName.MatchString(id) || reservedName(id) {
		return nil, badInputf("%s can't be a trainee's name; use letters, digits and dashes, 40 at most", quote(term.SafeLine(name)))
	}
	store, err := a.store()
	if err != nil {
		return nil, err
	}
	return &scoreBook{
		path: filepath.Join(store.Dir(), "drills", id+".jsonl"),
		warn: func(text string) { fmt.Fprintf(a.err, "hotlug: %s\n", text) },
	}, nil
}

// reservedName says whether some systems keep a file name for devices.
func reservedName(id string) bool {
	switch id {
	case "con", "prn", "aux", "nul":
		return true
	}
	return len(id) == 4 && (strings.HasPrefix(id, "com") || strings.HasPrefix(id, "lpt"))
}

// read gives the scores so far. Lines that can't be read are told and left out.
func (b *scoreBook) read() ([]drill.Score, error) {
	src, err := b.bytes()
	if err != nil {
		return nil, err
	}
	var out []drill.Score
	bad := 0
	for line := range bytes.Lines(src) {
		var s drill.Score
		switch {
		case line[len(line)-1] != '\n': // never finished
		case json.Unmarshal(line, &s) != nil || len(s.Faults) == 0:
			bad++
		default:
			out = append(out, s)
		}
	}
	if bad > 0 {
		b.warn(fmt.Sprintf("%s of %s can't be read and are left out", plural(bad, "line"), b.path))
	}
	return out, nil
}

// bytes are those of the file, none if there is none yet.
func (b *scoreBook) bytes() ([]byte, error) {
	i, err := os.Lstat(b.path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err != nil:
		return nil, badInputf("the scores can't be read: %v", err)
	case !i.Mode().IsRegular():
		return nil, badInputf("%s is no plain file, so no scores are kept in it", b.path)
	case i.Size() > mostScores:
		return nil, badInputf("%s is larger than any file of scores; move it away", b.path)
	}
	src, err := os.ReadFile(b.path)
	if err != nil {
		return nil, badInputf("the scores can't be read: %v", err)
	}
	return src, nil
}

// add appends a score, and has it on disk when it returns nil.
func (b *scoreBook) add(s drill.Score) (err error) {
	kept := func(err error) error { return badInputf("the score could not be kept: %v", err) }
	line, err := json.Marshal(s)
	if err != nil {
		return kept(err)
	}
	if err := os.MkdirAll(filepath.Dir(b.path), 0o700); err != nil {
		return kept(err)
	}
	src, err := b.bytes()
	if err != nil {
		return err
	}
	f, err := os.OpenFile(b.path, os.O_WRONLY|os.O_CREATE|os.O_APPEND, 0o600)
	if err != nil {
		return kept(err)
	}
	defer func() {
		if e := f.Close(); err == nil && e != nil {
			err = kept(e)
		}
	}()
	whole := int64(bytes.LastIndexByte(src, '\n') + 1)
	if whole < int64(len(src)) {
		if err := f.Truncate(whole); err != nil {
			return kept(err)
		}
	}
	if _, err := f.Write(append(line, '\n')); err != nil {
		return kept(err)
	}
	if err := f.Sync(); err != nil {
		return kept(err)
	}
	return nil
}
