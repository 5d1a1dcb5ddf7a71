package session

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
)

// Caps. A journal is written by this program and by nobody else, so whatever is
// beyond them is not a journal.
const (
	MaxHeader = 2 << 20   // bytes of the first line: it holds a rig file of up to 1 MiB, escaped
	MaxLine   = 256 << 10 // bytes of any other line: it holds a typed line of up to 64 KiB, escaped
	MaxFile   = 32 << 20  // bytes of a file: a long day's walk is well below one MiB
)

var (
	errLong  = errors.New("it is too long")
	errFull  = fmt.Errorf("a session may hold %d MiB; begin a new one", MaxFile>>20)
	errEntry = errors.New("it can't be written down")

	errNotPlain = errors.New("it is no plain file")
)

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// tail is what stands at the end of a line: the comma, the name and the sum.
const (
	tailStart = `,"sum":"`
	tailEnd   = `"}`
	tailLen   = len(tailStart) + 8 + len(tailEnd)
)

// seal writes a value as one line with its checksum and newline.
func seal(v any, most int) ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		return nil, fmt.Errorf("%w: %w", errEntry, err)
	}
	body := bytes.TrimRight(b.Bytes(), "\n")
	body = body[:len(body)-1] // the closing brace comes after the sum
	if len(body)+tailLen > most {
		return nil, fmt.Errorf("%w (%d bytes; %d are allowed)", errLong, len(body), most-tailLen)
	}
	return fmt.Appendf(nil, "%s%s%08x%s\n", body, tailStart, crc32.Checksum(body, castagnoli), tailEnd), nil
}

// sealed checks a line without its newline and gives what the sum is over: all
// but the last member and the closing brace.
func sealed(line []byte) ([]byte, error) {
	at := len(line) - tailLen
	if at < 1 || string(line[at:at+len(tailStart)]) != tailStart || string(line[len(line)-len(tailEnd):]) != tailEnd {
		return nil, errors.New("has no checksum")
	}
	var raw [4]byte
	var want [8]byte
	binary.BigEndian.PutUint32(raw[:], crc32.Checksum(line[:at], castagnoli))
	hex.Encode(want[:], raw[:])
	if string(line[at+len(tailStart):at+len(tailStart)+8]) != string(want[:]) {
		return nil, errors.New("does not match its checksum")
	}
	return line[:at:at], nil
}

// unseal checks a line without its newline and gives its JSON without the sum.
func unseal(line []byte) ([]byte, error) {
	body, err := sealed(line)
	if err != nil {
		return nil, err
	}
	return append(body, '}'), nil
}

// decode reads one JSON object and nothing besides; a member that the format does
// not have is an error, since leaving it out would change what was said.
func decode(body []byte, v any) error {
	d := json.NewDecoder(bytes.NewReader(body))
	d.DisallowUnknownFields()
	if err := d.Decode(v); err != nil {
		return fmt.Errorf("is not of this format: %w", err)
	}
	if _, err := d.Token(); err != io.EOF {
		return errors.New("is not of this format: something follows the object")
	}
	return nil
}

// lines gives the lines of a file one by one, each without its newline, holding
// no more than one of them in memory.
type lines struct {
	r    *bufio.Reader
	buf  []byte
	at   int64 // offset behind the line given last
	n    int   // its number, from 1
	torn int   // bytes of an unfinished last line
}

func newLines(r io.Reader) *lines { return &lines{r: bufio.NewReaderSize(r, 64<<10)} }

// next gives the next line; tooLong says that it was beyond the cap and has been
// passed over. io.EOF comes after the last finished line.
func (l *lines) next() (line []byte, tooLong bool, err error) {
	most := MaxLine
	if l.n == 0 {
		most = MaxHeader
	}
	l.buf = l.buf[:0]
	length := 0
	for {
		part, err := l.r.ReadSlice('\n')
		length += len(part)
		if length <= most+1 {
			l.buf = append(l.buf, part...)
		}
		switch err {
		case nil:
			l.n++
			l.at += int64(length)
			if length > most+1 {
				return nil, true, nil
			}
			return l.buf[:len(l.buf)-1], false, nil
		case bufio.ErrBufferFull:
			continue
		case io.EOF:
			l.torn = length
			return nil, false, io.EOF
		default:
			return nil, false, err
		}
	}
}
