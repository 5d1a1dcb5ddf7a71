package ticket

import (
	"fmt"
	"time"
)

// Photo is a picture that somebody attached. The ticket names the file; a page
// shows it too.
type Photo struct {
	File   string    `json:"file"`            // name of the copy in the session's folder
	Name   string    `json:"name,omitempty"`  // as it was called where it came from
	About  string    `json:"about,omitempty"` // what was asked when it was attached
	When   time.Time `json:"when,omitzero"`
	Width  int       `json:"width"`  // pixels
	Height int       `json:"height"` // pixels
	Sum    string    `json:"sha256"` // of the copy

	Data []byte `json:"-"` // the copy itself, where it is at hand
}

// redacted is the photo as number n without what tells where it comes from.
func (p Photo) redacted(n int) Photo {
	p.Name, p.When = "", time.Time{}
	p.File = fmt.Sprintf("photo-%d", n)
	return p
}
