package main

import (
	"context"
	"errors"
	"io"
	"path/filepath"
	"strings"
	"time"

	"hotlug/cmd/hotlug/chat"
	"hotlug/engine/shape"
	"hotlug/engine/walk"
)

// cases walks a file of cases, each with the proof that holds and, if there is
// one, the proof that fails.
func (c *cover) cases(path string, src []byte) error {
	n, problems := shape.Parse(path, src)
	if n == nil || shape.HasErrors(problems) {
		return exit(exitBadInput, &problemsError{"the file of cases", problems})
	}
	for _, x := range n.Get("cases").Items() {
		for _, failing := range []*shape.Node{nil, x.Get("failing")} {
			if failing == nil && x.Get("failing") != nil && x.Get("proof") == nil {
				continue
			}
			if err := c.oneCase(x, failing); err != nil {
				return badInputf("%s: %v", x.Place(), err)
			}
			if x.Get("failing") == nil {
				break
			}
		}
	}
	return nil
}

func (c *cover) oneCase(n, failing *shape.Node) error {
	var r replayInput
	r.answers = walk.Answers{Symptom: n.Get("symptom").Text(), At: n.Get("at").Text(), Answers: map[string]walk.Event{},
		Later: map[string][]walk.Event{}, After: map[string]map[string]walk.Event{}}
	problems := r.rigOf(c.g, n.Get("rig"), finder{from: filepath.Dir(n.Place().File)})
	danger := c.g.DangerReading // no danger, unless the case says otherwise
	r.answers.Answers[danger] = walk.Event{Kind: walk.EvAnswer, Reading: danger, Choice: "no"}
	problems = append(problems, events(c.g, n.Get("answers"), r.answers.Answers, r.answers.Later)...)
	word := n.Get("word").Text()
	if word != "" { // it brings the danger question before anything else
		for _, w := range c.g.DangerWords {
			if w.Words == word {
				r.answers.Words = word
				r.answers.Facts = append(r.answers.Facts, walk.Event{Kind: walk.EvDanger, Words: word, Finding: w.Stop}, r.answers.Answers[danger])
			}
		}
	}
	proof := n.Get("proof")
	if failing != nil {
		proof = failing.Get("proof")
		problems = append(problems, events(c.g, failing.Get("answers"), r.answers.Answers, r.answers.Later)...)
	}
	if proof != nil {
		after := map[string]walk.Event{}
		r.answers.After[n.Get("finding").Text()] = after
		problems = append(problems, events(c.g, proof, after, nil)...)
	}
	for _, p := range problems {
		return errors.New(p.Text)
	}
	if word != "" && r.answers.Answers[danger].Choice != "no" { // that ends it before the complaint is taken
		s := walk.Start(c.g, r.setup)
		for _, e := range r.answers.Facts {
			s, _ = walk.Step(c.g, s, e)
		}
		c.state(r.setup, s)
		return nil
	}
	s, _, err := walk.Replay(c.g, r.setup, r.answers)
	if err != nil {
		return err
	}
	c.state(r.setup, s)
	return nil
}

// transcript lets the chat hear what a transcript says.
func (c *cover) transcript(path string, src []byte) error {
	part := parts(string(src))
	o := chat.Options{Graph: c.g, Rec: nothing{}, Clock: func() time.Time { return time.Unix(0, 0) },
		Line: &heard{say: strings.Split(strings.TrimRight(part["say"], "\n"), "\n")}}
	for _, l := range strings.Split(strings.TrimSpace(part["setup"]), "\n") {
		key, value, _ := strings.Cut(l, ":")
		switch value = strings.TrimSpace(value); strings.TrimSpace(key) {
		case "symptom":
			o.Symptom = value
		case "rig":
			x, err := finder{from: filepath.Dir(path)}.load(value)
			if err != nil {
				return err
			}
			o.Setup.Places = x.Places
			o.Facts, _ = rigFacts(c.g, x)
		}
	}
	s, err := chat.New(o).Run(context.Background())
	if err != nil && !errors.Is(err, chat.ErrLeft) && !errors.Is(err, io.EOF) {
		return badInputf("%s: %v", path, err)
	}
	if s == nil {
		return badInputf("%s: nothing was walked", path)
	}
	c.state(o.Setup, s)
	return nil
}

// parts cuts a transcript at its lines "-- name --".
func parts(text string) map[string]string {
	out := map[string]string{}
	name := ""
	for l := range strings.Lines(text) {
		t := strings.TrimSpace(l)
		if strings.HasPrefix(t, "-- ") && strings.HasSuffix(t, " --") && len(t) > 6 {
			name = strings.TrimSpace(t[3 : len(t)-3])
			continue
		}
		out[name] += l
	}
	return out
}

// heard is a chat's line that types what a transcript says and shows nothing.
type heard struct{ say []string }

func (h *heard) ReadLine(string) (string, error) {
	if len(h.say) == 0 {
		return "", io.EOF
	}
	l := h.say[0]
	h.say = h.say[1:]
	return l, nil
}

func (h *heard) Print(string) error { return nil }
func (h *heard) Width() int         { return 80 }
func (h *heard) IsTerminal() bool   { return false }

// nothing keeps no record.
type nothing struct{}

func (nothing) Event(walk.Event) error { return nil }
func (nothing) Photo(string, string, time.Time) (chat.Attached, error) {
	return chat.Attached{}, &chat.NoPhotoError{What: "nothing is kept here"}
}
func (nothing) Note(string, time.Time) error         { return nil }
func (nothing) Said(chat.Concluded, time.Time) error { return nil }
func (nothing) ID() string                           { return "" }
