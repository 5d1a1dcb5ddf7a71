package ticket

import (
	"fmt"
	"math"
	"strings"
)

// A chart is as wide as a phone, so that its letters are never smaller than the
// page's; on a wide screen it does not grow much.
const (
	chartWidth = 360
	rowHeight  = 52 // of a bar: two lines of words and the bar
	barTop     = 22
	barHeight  = 14
	barRight   = 80 // room for the reading behind the bar
	nameRunes  = 46 // letters that fit on a line; the table has the whole name
)

func short(s string) string {
	r := []rune(shown(s))
	if len(r) <= nameRunes {
		return string(r)
	}
	return string(r[:nameRunes-1]) + "…"
}

// bars draws a bar a row, with a mark at what it is held against.
func (f *figure) bars(c Chart) {
	low, top := 0.0, 0.0
	if c.Base != nil {
		low = math.Floor(*c.Base/10)*10 - 10
	}
	for _, b := range c.Bars {
		top = max(top, b.Value)
		if b.Limit != nil {
			top = max(top, *b.Limit)
		}
	}
	if !(top > low) {
		top = low + 1
	}
	at := func(v float64) float64 { return max(0, (v-low)/(top-low)) * (chartWidth - barRight) }
	f.Width, f.Height = chartWidth, len(c.Bars)*rowHeight+8
	if c.Base != nil {
		f.Height += 22
	}
	for i, b := range c.Bars {
		y := float64(i * rowHeight)
		class, sign := "bar", "within"
		if b.Over {
			class, sign = "bar over", "over"
		}
		f.Shapes = append(f.Shapes,
			drawn{Kind: "text", X: 0, Y: y + 15, Text: short(b.Name), Class: "name", Anchored: "start"},
			drawn{Kind: "rect", X: 0, Y: y + barTop, X2: max(1, at(b.Value)), Y2: barHeight, Class: class},
			drawn{Kind: "text", X: chartWidth, Y: y + barTop + 12, Text: b.Shown, Class: "value", Anchored: "end"})
		if b.Limit != nil {
			x := at(*b.Limit)
			f.Shapes = append(f.Shapes,
				drawn{Kind: "line", X: x, Y: y + barTop - 3, X2: x, Y2: y + barTop + barHeight + 3, Class: "limit"},
				drawn{Kind: sign, X: chartWidth - barRight + 8, Y: y + barTop + barHeight/2, Class: "sign " + sign})
		}
	}
	if c.Base != nil {
		x, y := at(*c.Base), float64(f.Height)
		f.Shapes = append(f.Shapes,
			drawn{Kind: "line", X: x, Y: 20, X2: x, Y2: y - 20, Class: "base"},
			drawn{Kind: "text", X: min(x, 220), Y: y - 5, Text: c.BaseIs, Class: "axis", Anchored: "start"})
	}
}

// The field of a curve within its chart.
const (
	curveHeight = 260
	fieldLeft   = 46
	fieldRight  = 348
	fieldTop    = 30
	fieldFoot   = 214
)

// curves draws lines over an axis, and the marks among them.
func (f *figure) curves(c Chart) {
	f.Width, f.Height = chartWidth, curveHeight
	x0, x1, y1 := math.Inf(1), math.Inf(-1), 0.0
	for _, l := range c.Lines {
		for _, p := range l.Points {
			x0, x1, y1 = min(x0, p.X), max(x1, p.X), max(y1, p.Y)
		}
	}
	for _, m := range c.Points {
		x0, x1, y1 = min(x0, m.X), max(x1, m.XTo), max(y1, m.YTo)
	}
	if !(x1 > x0) || !(y1 > 0) {
		x1, y1 = x0+1, max(y1, 1)
	}
	atX := func(v float64) float64 { return fieldLeft + (v-x0)/(x1-x0)*(fieldRight-fieldLeft) }
	atY := func(v float64) float64 { return fieldFoot - v/y1*(fieldFoot-fieldTop) }
	for _, v := range ticks(0, y1) {
		f.Shapes = append(f.Shapes, drawn{Kind: "line", X: fieldLeft, Y: atY(v), X2: fieldRight, Y2: atY(v), Class: "grid"},
			drawn{Kind: "text", X: fieldLeft - 6, Y: atY(v) + 5, Text: fmt.Sprintf("%.4g", v), Class: "axis", Anchored: "end"})
	}
	for _, v := range ticks(x0, x1) {
		f.Shapes = append(f.Shapes, drawn{Kind: "line", X: atX(v), Y: fieldFoot, X2: atX(v), Y2: fieldFoot + 5, Class: "grid"},
			drawn{Kind: "text", X: atX(v), Y: fieldFoot + 19, Text: fmt.Sprintf("%.4g", v), Class: "axis", Anchored: "middle"})
	}
	f.Shapes = append(f.Shapes,
		drawn{Kind: "text", X: 0, Y: 15, Text: c.YName + ", " + c.Unit, Class: "axis", Anchored: "start"},
		drawn{Kind: "text", X: fieldRight, Y: curveHeight - 8, Text: c.XName + ", " + c.XUnit, Class: "axis", Anchored: "end"})
	for i, l := range c.Lines {
		var way strings.Builder
		for j, p := range l.Points {
			fmt.Fprintf(&way, "%s%.1f %.1f", map[bool]string{true: "M", false: "L"}[j == 0], atX(p.X), atY(p.Y))
		}
		f.Shapes = append(f.Shapes, drawn{Kind: "path", Way: way.String(), Class: fmt.Sprintf("curve curve%d", i+1)})
	}
	for _, m := range c.Points {
		class, down := "mark", 22.0 // below it, clear of the lines that cross there
		if m.XTo > m.X || m.YTo > m.Y {
			class, down = "mark span", 5
		}
		x, y := atX(m.X), atY(m.YTo)
		f.Shapes = append(f.Shapes, drawn{Kind: "rect", X: x - 4, Y: y - 4, X2: atX(m.XTo) - x + 8, Y2: atY(m.Y) - y + 8, Class: class})
		anchor, beside := "start", atX(m.XTo)+9
		if beside > 200 {
			anchor, beside = "end", x-9
		}
		f.Shapes = append(f.Shapes, drawn{Kind: "text", X: beside, Y: (y+atY(m.Y))/2 + down, Text: short(m.Name), Class: "value", Anchored: anchor})
	}
}

// ticks are round numbers between two, five or so.
func ticks(from, to float64) []float64 {
	step := math.Pow(10, math.Floor(math.Log10(to-from)))
	for _, by := range []float64{0.2, 0.5, 1} {
		if (to-from)/(step*by) <= 6 {
			step *= by
			break
		}
	}
	var out []float64
	for v := math.Ceil(from/step) * step; v <= to+step/1000 && len(out) < 20; v += step {
		out = append(out, math.Round(v/step)*step)
	}
	return out
}
