package session

import (
	"bufio"
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"sync"
)

// cacheName is a file beside the journals that holds what each came to. It can be
// thrown away at any time: it is made anew when it is missing, old or damaged, and
// nothing in it counts against a journal.
const cacheName = "summaries.cache"

// cacheFormat is that of the cache. It changes when a summary does; a cache of
// another format is made anew.
const cacheFormat = 1

// fewSessions is how many sessions are read without a cache, and how many may be
// new or changed before it is written anew: so many are read in some
// milliseconds.
const fewSessions = 64

// cacheHead is the cache's first line.
type cacheHead struct {
	Format int `json:"format"`
	Count  int `json:"count"` // of sessions when it was made
}

// cacheLine is a session in the cache. It counts while its journal has the same
// size and time of change: a journal is only ever appended to, so that whatever
// is written to it shows in its size. Lines are sealed as those of a journal are.
type cacheLine struct {
	ID      string  `json:"id"` // first, where idOf looks for it
	Size    int64   `json:"size"`
	Mod     int64   `json:"mod"` // nanoseconds
	Summary Summary `json:"summary"`
	// Knew is the summary's knowledge, apart: it is the same in thousands of lines,
	// and read once.
	Knew string `json:"knew"`
}

// cache is the old file, read in step with the list of sessions, and the new one.
// Both are in the order of the list, newest first, so that neither is ever whole
// in memory.
type cache struct {
	path string
	old  *os.File
	in   *lines
	at   []byte // the old file's line that comes next, nil at its end

	fresh *os.File // the new one, nil if none is made
	out   *bufio.Writer
	bad   bool // the new one could not be written

	anew int // sessions that were read
}

// known are the words of knowledge that lines were seen with, each read.
type known struct{ sync.Map }

func (k *known) read(text string) (Knowledge, bool) {
	if had, ok := k.Load(text); ok {
		return had.(Knowledge), true
	}
	var x Knowledge
	if json.Unmarshal([]byte(text), &x) != nil {
		return x, false
	}
	k.Store(text, x)
	return x, true
}

// openCache opens the cache for a list of so many sessions. A new one is begun
// where the old one is missing or far from the list. Whatever fails, there is no
// cache, and every journal is read.
func (s *Store) openCache(count int) *cache {
	c := &cache{path: filepath.Join(s.dir, cacheName)}
	if count <= fewSessions {
		return c
	}
	head, sound := cacheHead{}, false
	if f, err := openPlain(c.path, os.O_RDONLY); err == nil {
		c.old, c.in = f, newLines(f)
		if line, tooLong, err := c.in.next(); err == nil && !tooLong {
			body, err := unseal(line)
			sound = err == nil && json.Unmarshal(body, &head) == nil && head.Format == cacheFormat
		}
	}
	if sound {
		c.step()
	}
	if !sound || abs(count-head.Count) > fewSessions {
		c.begin(s.dir, count)
	}
	return c
}

func abs(n int) int { return max(n, -n) }

func (c *cache) begin(dir string, count int) {
	f, err := os.CreateTemp(dir, ".hotlug-*") // made with 0600
	if err != nil {
		return
	}
	c.fresh, c.out = f, bufio.NewWriterSize(f, 256<<10)
	head, err := seal(cacheHead{cacheFormat, count}, MaxLine)
	c.bad = err != nil
	c.out.Write(head) // an error stays with the writer until Flush
}

// step goes to the next line of the old file that looks like one.
func (c *cache) step() {
	c.at = nil
	for {
		line, tooLong, err := c.in.next()
		if err != nil {
			return
		}
		if !tooLong && idOf(line) != "" {
			c.at = line
			return
		}
	}
}

// idOf is the id at the beginning of a cache's line.
func idOf(line []byte) string {
	rest, ok := bytes.CutPrefix(line, []byte(`{"id":"`))
	if !ok || len(rest) < idLength || !valid(string(rest[:idLength])) {
		return ""
	}
	return string(rest[:idLength])
}

// next gives the old file's line of a session, nil if there is none. Sessions are
// asked for in the order of the list.
func (c *cache) next(id string) []byte {
	for c.at != nil {
		switch at := idOf(c.at); {
		case at == id:
			line := bytes.Clone(c.at)
			c.step()
			return line
		case at < id: // the list is descending: the session is not there
			return nil
		}
		c.step()
	}
	return nil
}

// keep writes a session's line into the new file, if one is made.
func (c *cache) keep(l looked) {
	if l.anew {
		c.anew++
	}
	if c.out != nil && l.line != nil {
		c.out.Write(l.line)
	}
}

// done puts the new file in the place of the old one. An old file that turned out
// to be of little use is removed, so that the next list makes a new one.
func (c *cache) done() {
	if c.fresh == nil {
		if c.old != nil && c.anew > fewSessions {
			os.Remove(c.path)
		}
		return
	}
	if c.bad || c.out.Flush() != nil || c.fresh.Close() != nil {
		return
	}
	if i, err := os.Lstat(c.path); err == nil && !i.Mode().IsRegular() {
		return // what lies there is not ours
	}
	os.Rename(c.fresh.Name(), c.path)
}

func (c *cache) close() {
	if c.old != nil {
		c.old.Close()
	}
	if c.fresh != nil {
		c.fresh.Close()
		os.Remove(c.fresh.Name()) // fails once it has been renamed, which is as it should be
	}
}

// lookAt finds out what a session came to: from its line in the cache while that
// is as fresh as its journal, else from the journal.
func (s *Store) lookAt(l *looked, kn *known) {
	i, err := os.Lstat(s.path(l.id))
	if err == nil && i.Mode().IsRegular() && l.kept != nil {
		var k cacheLine
		body, err := unseal(l.kept)
		if err == nil && json.Unmarshal(body, &k) == nil && k.ID == l.id && k.Summary.ID == l.id && k.Size == i.Size() && k.Mod == i.ModTime().UnixNano() {
			if knew, ok := kn.read(k.Knew); ok {
				l.Summary, l.line = k.Summary, append(l.kept, '\n')
				l.Knew = knew
				return
			}
		}
	}
	l.Summary, l.anew = s.summary(l.id), true
	// What is damaged or torn is told each time it is met, with its place.
	if err != nil || l.Err != nil || l.Report.Torn > 0 {
		return
	}
	knew, err := json.Marshal(l.Knew)
	if err != nil {
		return
	}
	sum := l.Summary
	sum.Knew = Knowledge{}
	line, err := seal(cacheLine{l.id, i.Size(), i.ModTime().UnixNano(), sum, string(knew)}, MaxLine)
	if err == nil {
		l.line = line
	}
}
