package chat

import (
	"hotlug/engine/diagram"
	"hotlug/engine/reading"
	"hotlug/engine/walk"
)

// stands says in words where one stands for a reading.
var stands = map[string]string{
	"cabin": "Stand anywhere in the cabin.", "panel": "Stand at the switches and fuses.", "battery": "Stand at the battery.",
	"roof": "Stand where you see the solar panels.", "inverter": "Stand at the inverter.",
}

// whereIs says where the probes go, and draws the part of the rig around them.
// Whoever does not see the drawing hears the same in a sentence.
func (c *Chat) whereIs() {
	r := c.reading()
	if r == nil {
		c.print(Block{Role: Say, Lines: []string{noProbes}})
		return
	}
	var lines []string
	part, drawn := c.around(r)
	if w := c.probes(r); w != "" {
		lines = append(lines, w)
	}
	if drawn {
		lines = append(lines, part.Spoken)
	}
	if m := c.g.Meters[r.Meter]; m != nil && m.Say != "" {
		lines = append(lines, m.Say)
	}
	switch say := stands[r.Stand]; {
	case say != "":
		lines = append(lines, say)
	case r.Stand != "":
		lines = append(lines, "Stand at: "+r.Stand+".")
	}
	if len(lines) == 0 {
		lines = []string{noProbes}
	}
	c.print(Block{Role: Where, Lines: lines})
	if drawn && !c.begin.NoDrawings {
		c.gap()
		c.print(Block{Role: Where, Lines: part.Lines})
	}
}

// whereIndent is what the layout puts before lines of the role Where.
const whereIndent = 2

// around is the part of the rig around the two points of a reading, if it has two.
func (c *Chat) around(r *reading.Reading) (diagram.Excerpt, bool) {
	if r.From == "" || r.To == "" {
		return diagram.Excerpt{}, false
	}
	if c.drawing == nil && c.begin.Drawing != nil {
		c.drawing = c.begin.Drawing()
	}
	if c.drawing == nil {
		c.drawing = diagram.Lay(diagram.Standard(), diagram.Options{})
	}
	return c.drawing.Around(r.From, r.To, c.placeAsked(r), min(c.line.Width(), widest)-whereIndent)
}

// placeAsked is the place at which the reading of the prompt is taken, "" for none.
func (c *Chat) placeAsked(r *reading.Reading) string {
	p := c.state.Prompt()
	if p.Kind == walk.WantCloseCall && len(p.Close.Readings) > 0 {
		return p.Close.Readings[0].Place
	}
	if p.Place.ID != "" {
		return p.Place.ID
	}
	return r.At
}
