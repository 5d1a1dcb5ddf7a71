package chat

import (
	"errors"
	"fmt"
	"strings"

	"hotlug/cmd/hotlug/term"
)

// photoPaths lists what may be meant by what was typed behind `photo`: as it
// stands; without the quotes that a file manager puts round it; without the
// backslashes that a terminal puts before spaces when a file is dropped on it.
func photoPaths(typed string) []string {
	out := []string{typed}
	for _, q := range []string{"'", `"`} {
		if len(typed) > 2 && strings.HasPrefix(typed, q) && strings.HasSuffix(typed, q) {
			out = append(out, typed[1:len(typed)-1])
		}
	}
	if strings.Contains(typed, `\ `) {
		out = append(out, strings.ReplaceAll(typed, `\ `, " "))
	}
	return out
}

// attach keeps the picture that a line names. It says false when the line names no
// file: then it may mean something else.
func (c *Chat) attach(typed string) bool {
	if typed == "" {
		c.print(Block{Role: Say, Lines: []string{photoHow}})
		return true
	}
	if c.rec == nil {
		c.print(Block{Role: Say, Lines: []string{photoNotKept}})
		return true
	}
	about := ""
	if r := c.reading(); r != nil {
		about = r.Name
	}
	for _, path := range photoPaths(typed) {
		a, err := c.rec.Photo(path, about, c.clock())
		var no *NoPhotoError
		switch {
		case err == nil:
			c.print(Block{Role: Say, Lines: []string{fmt.Sprintf(photoKept, a.File, a.Width, a.Height)}})
			return true
		case errors.As(err, &no) && no.Missing:
			continue
		case errors.As(err, &no):
			c.print(Block{Role: Say, Lines: []string{fmt.Sprintf(photoRefused, clip(path), term.SafeLine(no.What))}})
			return true
		}
		c.print(Block{Role: Caution, Hang: "Careful", Lines: []string{fmt.Sprintf("The photo could not be saved: %s", term.SafeLine(err.Error()))}})
		return true
	}
	return false
}

// photo does the command: nothing that it could name is a file if it gets here.
func (c *Chat) photo(typed string) {
	if typed == "" || c.rec == nil {
		c.attach(typed)
		return
	}
	c.print(Block{Role: Say, Lines: []string{fmt.Sprintf(photoRefused, clip(typed), "there is no such file"), photoHow}})
}
