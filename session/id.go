package session

import (
	"fmt"
	"io"
	"strings"
	"time"
)

// An id is seven characters of time and three of chance, as in "1nb5w2q-7tm":
// sortable by time, easy to read over the phone, safe as a file name anywhere.
// The alphabet is Crockford's base 32, which has no i, l, o and u.
const (
	alphabet   = "0123456789abcdefghjkmnpqrstvwxyz"
	timeChars  = 7 // 35 bits of seconds: enough until the year 3058
	otherChars = 3 // 15 bits: two sessions begun in one second differ
	idLength   = timeChars + 1 + otherChars
)

// NewID makes an id for a session created at a time, with two bytes of
// randomness.
func NewID(created time.Time, random io.Reader) (string, error) {
	var r [2]byte
	if _, err := io.ReadFull(random, r[:]); err != nil {
		return "", fmt.Errorf("no random number could be had for the session's id: %w", err)
	}
	const last = 1<<(5*timeChars) - 1
	return digits(min(max(created.Unix(), 0), last), timeChars) + "-" +
		digits((int64(r[0])<<8|int64(r[1]))&(1<<(5*otherChars)-1), otherChars), nil
}

func digits(n int64, width int) string {
	b := make([]byte, width)
	for i := width - 1; i >= 0; i-- {
		b[i] = alphabet[n&31]
		n >>= 5
	}
	return string(b)
}

// ParseID reads an id as people type it: capitals, no hyphen, and o, i and l for
// 0 and 1 are understood. The error says what an id looks like.
func ParseID(text string) (string, error) {
	bad := fmt.Errorf("%q is not the id of a session: an id has seven characters, a hyphen and three more, as in 1nb5w2q-7tm", clip(text))
	if len(text) > 2*idLength {
		return "", bad
	}
	var b strings.Builder
	for _, r := range strings.ToLower(strings.TrimSpace(text)) {
		switch r {
		case 'o':
			r = '0'
		case 'i', 'l':
			r = '1'
		case '-':
			if b.Len() != timeChars {
				return "", bad
			}
			continue
		}
		if !strings.ContainsRune(alphabet, r) {
			return "", bad
		}
		b.WriteRune(r)
	}
	s := b.String()
	if len(s) != timeChars+otherChars {
		return "", bad
	}
	return s[:timeChars] + "-" + s[timeChars:], nil
}

// valid says whether an id is exactly as NewID writes them.
func valid(id string) bool {
	if len(id) != idLength || id[timeChars] != '-' {
		return false
	}
	for i := range len(id) {
		if i != timeChars && strings.IndexByte(alphabet, id[i]) < 0 {
			return false
		}
	}
	return true
}

func clip(s string) string {
	if len(s) > 40 {
		return strings.ToValidUTF8(s[:40], "") + "..."
	}
	return s
}
