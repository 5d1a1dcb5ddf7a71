package chat

import (
	"context"
	"errors"
	"io"

	"hotlug/cmd/hotlug/term"
	"hotlug/engine/walk"
)

// Practice stands for a rig while the chat asks: it takes the readings asked for,
// carries out what is done, and tells at the end what was hidden. Nothing of a
// practice is kept, so that nobody can attach it to a ticket by mistake.
type Practice interface {
	Story() string
	// Measure answers a prompt: in words, and as an event. False: nothing is to be
	// read there.
	Measure(p walk.Prompt) (words string, e walk.Event, ok bool)
	// Took hears of each event that the walk has taken at a prompt.
	Took(p walk.Prompt, e walk.Event)
	Reveal(told []walk.Told) []string
}

// measureWord takes the reading at hand from the rig of a practice.
const measureWord = "measure"

const (
	practiceHow     = "Answer as at a real rig, or type `measure` and the reading is taken for you."
	practiceStory   = "The customer says:"
	practiceNoRead  = "There is nothing to measure here."
	practiceOver    = "The practice ends here."
	practiceMeasure = "the reading is taken on the rig of this practice"
)

func (c *Chat) sayPractice() {
	p := c.begin.Practice
	c.print(Block{Role: Hint, Lines: []string{practiceHow}})
	c.gap()
	c.print(Block{Role: Say, Lines: []string{practiceStory}}, Block{Role: Where, Lines: []string{p.Story()}})
}

func (c *Chat) sayReveal() {
	c.gap()
	c.print(Block{Role: Say, Lines: []string{practiceOver}}, Block{Role: Result, Lines: c.begin.Practice.Reveal(c.state.Told())})
}

// helpRows are the commands with what they do; in a practice there is one more.
func (c *Chat) helpRows() [][2]string {
	if c.begin.Practice == nil {
		return helpLines
	}
	return append([][2]string{{measureWord, practiceMeasure}}, helpLines...)
}

// practises says whether a line wants a reading from the rig of a practice.
func (c *Chat) practises(text string) bool {
	return c.begin.Practice != nil && plain(text) == measureWord
}

// measure takes the reading at hand from the rig and answers with it.
func (c *Chat) measure() heard {
	p := c.state.Prompt()
	words, e, ok := c.begin.Practice.Measure(p)
	if !ok {
		c.print(Block{Role: Say, Lines: []string{practiceNoRead}})
		c.remind()
		return stays
	}
	c.print(Block{Role: Say, Lines: []string{words}})
	before := len(c.state.Told())
	if !c.do(e) {
		c.refused()
		return stays
	}
	c.sayVerdicts(before)
	c.say()
	return moved
}

// Exchange is a plain conversation: what begins it is printed, then every line
// typed is heard, until it is over. It ends with ErrLeft where the input ends
// first.
func Exchange(ctx context.Context, line Line, colour term.Palette, begin []Block, hear func(text string) (blocks []Block, over bool)) error {
	show := func(b []Block) { _ = line.Print(layout(b, line.Width(), colour)) }
	show(begin)
	for {
		if err := ctx.Err(); err != nil {
			return err
		}
		text, err := line.ReadLine("> ")
		switch {
		case errors.Is(err, io.EOF):
			return ErrLeft
		case errors.Is(err, term.ErrTooLong):
			show([]Block{{Role: Hint, Lines: []string{"That line is too long. " + typeHelp}}})
			continue
		case err != nil:
			return err
		}
		blocks, over := hear(text)
		show(blocks)
		if over {
			return nil
		}
		_ = line.Print("\n")
	}
}
