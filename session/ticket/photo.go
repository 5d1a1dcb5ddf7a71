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

	Lost string `json:"lost,omitempty"` // why the copy is not there any more

	Data []byte `json:"-"` // the copy itself, where it is at hand
}

// redacted is the photo as number n without what tells where it comes from.
func (p Photo) redacted(n int) Photo {
	p.Name, p.When = "", time.Time{}
	if p.Lost != "" {
		p.Lost = fmt.Sprintf("photo %d is not there", n)
	}
	return p
}

// mostShown is how many bytes of photos a page holds: mail takes 20 MiB or so, and
// in a page they grow by a third. The others are named.
const mostShown = 12 << 20

// picture is a photo on a page.
type picture struct {
	Alt, Caption  string
	Width, Height int
	data          []byte // nil where it is named only
}

func (p *picture) clean() { each(&p.Alt, &p.Caption) }

// photos are the pictures with what was asked when they were attached.
func photos(t Ticket) []block {
	var out []block
	room := mostShown
	for i, p := range t.Photos {
		x := &picture{Width: p.Width, Height: p.Height, Alt: fmt.Sprintf("Photo %d", i+1)}
		if p.About != "" {
			x.Alt += ", attached when asked for " + p.About
		}
		x.Caption = fmt.Sprintf("%s: %s, %d by %d pixels", x.Alt, p.File, p.Width, p.Height)
		if p.Name != "" {
			x.Caption += ", called " + p.Name
		}
		if at := clock(p.When); at != "" {
			x.Caption += ", " + at
		}
		if p.Lost != "" {
			x.Caption += ". Not shown: " + p.Lost
		}
		if len(p.Data) > 0 && len(p.Data) <= room {
			x.data, room = p.Data, room-len(p.Data)
		}
		out = append(out, block{Photo: x})
	}
	return out
}
