package term

import (
	"bufio"
	"context"
	"errors"
	"io"
	"strings"
	"sync"
)

// plain reads lines as they come, without editing.
type plain struct {
	ends
	ctx   context.Context
	ask   chan struct{}
	given chan typed
	done  chan struct{}
	once  sync.Once
}

type typed struct {
	text string
	err  error
}

func openPlain(ctx context.Context, e ends) *plain {
	p := &plain{ends: e, ctx: ctx, ask: make(chan struct{}), given: make(chan typed, 1), done: make(chan struct{})}
	go p.serve()
	return p
}

// serve reads a line whenever one is asked for. It is a goroutine of its own, since
// a read can't be called off: when the context is done, it is left behind.
func (p *plain) serve() {
	r := bufio.NewReaderSize(p.in, 4096)
	first := true
	for {
		select {
		case <-p.ask:
		case <-p.done:
			return
		}
		text, err := readLine(r, MaxLine)
		if first {
			text = strings.TrimPrefix(text, "\ufeff") // as some editors and shells put before the first line
			first = false
		}
		p.given <- typed{text, err}
	}
}

func (p *plain) ReadLine(prompt string) (string, error) {
	if err := p.ctx.Err(); err != nil {
		return "", err
	}
	if p.inTerm {
		if err := p.Print(prompt); err != nil {
			return "", err
		}
	}
	select {
	case p.ask <- struct{}{}:
	case <-p.done:
		return "", io.EOF
	}
	select {
	case t := <-p.given:
		if err := p.ctx.Err(); err != nil {
			return "", err
		}
		return t.text, p.show(prompt, t)
	case <-p.ctx.Done():
		return "", p.ctx.Err()
	}
}

// show prints what the eye misses. A terminal shows what is typed by itself; from
// a pipe nobody has seen it, and the output would have answers to no questions.
// It returns the line's own error.
func (p *plain) show(prompt string, t typed) error {
	var err error
	switch {
	case p.inTerm && (t.err == io.EOF || !p.outTerm):
		err = p.Print("\n")
	case !p.inTerm && t.err == nil:
		err = p.Print(prompt + SafeLine(t.text) + "\n")
	case !p.inTerm && errors.Is(t.err, ErrTooLong):
		err = p.Print(prompt + "...\n")
	}
	if t.err != nil {
		return t.err
	}
	return err
}

// Close ends the reading; one that is under way ends with the process.
func (p *plain) Close() error {
	p.once.Do(func() { close(p.done) })
	return nil
}

// readLine reads one line of at most so many bytes, without its end. A last line
// without an end is a line. Beyond the cap the line is read to its end, nothing
// of it is kept, and the error is ErrTooLong. NUL bytes are left out.
func readLine(r *bufio.Reader, most int) (string, error) {
	var b []byte
	length := 0
	for {
		part, err := r.ReadSlice('\n')
		length += len(part)
		if len(b) <= most {
			b = append(b, part...)
		}
		switch {
		case err == bufio.ErrBufferFull:
			continue
		case err != nil && length == 0:
			return "", err
		case err != nil && err != io.EOF:
			return "", err
		}
		text := strings.TrimRight(string(b), "\r\n")
		if len(text) > most {
			return "", ErrTooLong
		}
		return whole(strings.ReplaceAll(text, "\x00", "")), nil
	}
}
