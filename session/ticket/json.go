package ticket

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
)

// JSON writes the ticket as JSON, one field a line.
func JSON(w io.Writer, t Ticket) error { return EncodeJSON(w, t) }

// EncodeJSON writes anything as indented JSON that is safe on a terminal and in a
// page: what is hidden, or could end a script, stands escaped, so that nothing is
// lost.
func EncodeJSON(w io.Writer, v any) error {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(true)
	if err := e.Encode(v); err != nil {
		return err
	}
	var out bytes.Buffer
	for _, r := range b.String() { // beyond ASCII there are only the contents of strings
		switch {
		case r < 0x7f || !hidden(r):
			out.WriteRune(r)
		case r > 0xffff:
			r -= 0x10000
			fmt.Fprintf(&out, "\\u%04x\\u%04x", 0xd800+r>>10, 0xdc00+r&0x3ff)
		default:
			fmt.Fprintf(&out, "\\u%04x", r)
		}
	}
	_, err := w.Write(out.Bytes())
	return err
}
