package diagram

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"unicode"

	"hotlug/engine/rig"
	"hotlug/kb"
)

// demo is a built-in rig; "" is the standard one.
func demo(t testing.TB, name string) *rig.System {
	t.Helper()
	if name == "" {
		return Standard()
	}
	src, err := fs.ReadFile(kb.Files, "rigs/"+name+".yaml")
	if err != nil {
		t.Fatal(err)
	}
	r, problems := rig.Read(name, src)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	s, problems := rig.SystemOf(r, nil)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return s
}

// demos are all built-in rigs and the standard one.
func demos(t testing.TB) []string {
	t.Helper()
	files, err := fs.Glob(kb.Files, "rigs/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatal("there are no demo rigs", err)
	}
	out := []string{""}
	for _, f := range files {
		out = append(out, strings.TrimSuffix(strings.TrimPrefix(f, "rigs/"), ".yaml"))
	}
	return out
}

// readings are marks of all kinds, at points that every rig has, at places, and at
// what no rig file describes.
var readings = []Mark{
	{From: "post-pos", To: "post-neg", Label: "volts across the battery posts, everything off", Value: "12.62 V", Verdict: InOrder},
	{From: "post-pos", To: "post-neg", Label: "volts across the battery posts under load", Value: "11.9 V", Verdict: Close},
	{From: "holder-in", To: "holder-out", At: "main-fuse", Label: "volts across the holder", Value: "180 mV", Verdict: AtFault},
	{From: "fuse-tab-in", To: "fuse-tab-out", At: "main-fuse", Label: "volts across the fuse itself", Value: "90 mV", Verdict: InOrder},
	{From: "lug-palm", To: "lug-conductor", At: "post-pos", Label: "volts across the crimp", Value: "4 mV"},
	{From: "bus-neg", To: "post-neg", Label: "volts over the minus leg", Value: "0.12 V", Verdict: AtFault, Word: "speaks for a bad joint in it"},
	{From: "ctl-pv-pos", To: "ctl-pv-neg", Label: "PV volts", Value: "38.1 V", Verdict: InOrder},
	{At: "main-fuse", Label: "its heat", Value: "71 °C", Verdict: AtFault},
	{From: "start-pos", To: "start-neg", Label: "volts at the starter battery", Value: "13.9 V"},
	{From: "block-pos", To: "block-neg", Label: "the highest battery", Value: "12.9 V"},
	{At: "no-such-place", Label: "the heat of something", Value: "40 °C", Verdict: Close},
}

// systems are many sorts of rigs, each under a name.
func systems(t testing.TB) map[string]*rig.System {
	t.Helper()
	out := map[string]*rig.System{}
	for _, n := range demos(t) {
		out["demo "+n] = demo(t, n)
	}
	for _, r := range []rig.Ranges{rig.Tuning, rig.Release} {
		for seed := range uint64(12) {
			out[fmt.Sprintf("%s %d", r.Name, seed)] = rig.Random(rand.New(rand.NewPCG(8, seed)), r)
		}
	}
	for _, c := range matrix() {
		out[c.name] = c.sys
	}
	out["parts of one's own"] = ownParts(t)
	return out
}

// ownParts is a rig with parts that are in no standard plan: a load's way that goes
// straight from post to post, a wire that ends elsewhere, two wires at one point, and
// a part that leads back to where it begins.
func ownParts(t testing.TB) *rig.System {
	s := demo(t, "hut-01")
	for i := range s.Parts {
		if s.Parts[i].ID == "ctl-pos" {
			s.Parts[i].B = "elsewhere.in"
		}
	}
	s.Parts = append(s.Parts,
		rig.Part{ID: "heater-fuse", Kind: rig.Fuse, Name: "the fuse of the heater", Circuit: "heater", A: rig.PostPos, B: "heater-fuse.out"},
		rig.Part{ID: "heater-wire", Kind: rig.Wire, Name: "the wire to the heater", Circuit: "heater", A: "heater-fuse.out", B: "heater.in"},
		rig.Part{ID: "heater-wire-2", Kind: rig.Wire, Circuit: "heater", A: "heater-fuse.out", B: "heater.other"},
		rig.Part{ID: "ring", Kind: rig.Joint, Circuit: "lights", A: "ring.in", B: "ring.in"},
	)
	return s
}

func TestEveryPartIsDrawnOnce(t *testing.T) {
	for name, s := range systems(t) {
		got := Lay(s, Options{}).parts()
		var want []string
		for _, p := range s.Parts {
			want = append(want, p.ID)
		}
		slices.Sort(got)
		slices.Sort(want)
		if !slices.Equal(got, want) {
			t.Errorf("%s: drawn are %q, the plan has %q", name, got, want)
		}
	}
}

// What is drawn once in the layout is drawn once in both drawings as well.
func TestBothDrawingsShowEveryPart(t *testing.T) {
	for name, s := range systems(t) {
		l := Lay(s, Options{})
		words := strings.Join(strings.Fields(strings.Join(l.Text(nil, leastText), " ")), " ")
		signs := map[symbol]int{}
		for _, p := range s.Parts {
			if x := symbolOf(p.Kind); x != symWire {
				signs[x]++
			}
		}
		svg := &sheet{l: l, left: margin}
		rungs, _ := l.marked(nil)
		svg.ladder(rungs, 1, margin)
		for _, r := range svg.taken {
			signs[symbol(r.what)]--
		}
		for _, x := range []symbol{symJoint, symFuse, symSwitch, symIsolator, symBreaker, symPlug, symShunt} {
			if signs[x] != 0 {
				t.Errorf("%s: the SVG lacks %d of the sign for %s", name, signs[x], x)
			}
		}
		for _, sign := range []string{ascii.fuse, ascii.plug, ascii.shunt} {
			n := 0
			for _, p := range s.Parts {
				if ascii.sign(symbolOf(p.Kind)) == sign {
					n++
				}
			}
			if got := strings.Count(words, sign); got != n {
				t.Errorf("%s: the text has %d signs %s, the plan %d such parts", name, got, sign, n)
			}
		}
	}
}

func TestTextKeepsItsWidth(t *testing.T) {
	for name, s := range systems(t) {
		for _, box := range []bool{false, true} {
			l := Lay(s, Options{BoxDrawing: box})
			for _, width := range []int{30, 40, 75, 80} {
				for _, marks := range [][]Mark{nil, readings} {
					for _, line := range l.Text(marks, width) {
						if columns(line) > width {
							t.Fatalf("%s at %d columns: %q has %d", name, width, line, columns(line))
						}
						if !box && marks == nil && strings.ContainsFunc(line, func(r rune) bool {
							return r > unicode.MaxASCII && strings.ContainsRune("│─║┊└┘┌┐├┤╟╢○╱", r)
						}) {
							t.Fatalf("%s: a line of Unicode in plain text: %q", name, line)
						}
					}
				}
			}
		}
	}
}

// Nothing of a drawing lies on anything else of it but on the lines, and all of it
// lies on the sheet.
func TestNothingOverlaps(t *testing.T) {
	for name, s := range systems(t) {
		for abreast := 1; abreast <= 2; abreast++ {
			l := Lay(s, Options{Abreast: abreast})
			for _, marks := range [][]Mark{nil, readings} {
				sh := &sheet{l: l, marks: marks}
				wide, tall := sh.draw()
				for i, a := range sh.taken {
					if a.x < 0 || a.y < 0 || a.x+a.w > wide || a.y+a.h > tall {
						t.Errorf("%s: %q stands out of the sheet of %g by %g: %+v", name, a.what, wide, tall, a)
					}
					for _, b := range sh.taken[i+1:] {
						if a.x < b.x+b.w && b.x < a.x+a.w && a.y < b.y+b.h && b.y < a.y+a.h && !inside(a, b) {
							t.Errorf("%s: %+v and %+v overlap", name, a, b)
						}
					}
				}
				if t.Failed() {
					return
				}
			}
		}
	}
}

// inside says whether one is a box and the other stands within it: its name.
func inside(a, b rect) bool {
	if !strings.HasPrefix(a.what, "box ") {
		a, b = b, a
	}
	return strings.HasPrefix(a.what, "box ") && a.x <= b.x && b.x+b.w <= a.x+a.w && a.y <= b.y && b.y+b.h <= a.y+a.h
}

func TestSVGIsSound(t *testing.T) {
	for name, s := range systems(t) {
		for _, marks := range [][]Mark{nil, readings} {
			svg := Lay(s, Options{}).SVG(marks)
			if err := wellFormed(svg); err != nil {
				t.Errorf("%s: %v", name, err)
			}
		}
	}
}

// wellFormed says what is wrong with an SVG: as XML, or with what it may hold.
func wellFormed(svg []byte) error {
	for _, r := range string(svg) {
		if r != '\n' && unicode.IsControl(r) {
			return fmt.Errorf("control character %q", r)
		}
	}
	for _, bad := range []string{"<script", "javascript:", "@import", "url(", "href", "<image", "<foreignObject", " on"} {
		// What people wrote may hold these words, but as text only.
		if bytes.Contains(bytes.ReplaceAll(outsideText(svg), []byte("text-anchor"), nil), []byte(bad)) {
			return fmt.Errorf("it holds %q", bad)
		}
	}
	d := xml.NewDecoder(bytes.NewReader(svg))
	d.Strict = true
	allowed := []string{"svg", "title", "desc", "style", "rect", "path", "circle", "text"}
	for {
		t, err := d.Token()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		if e, ok := t.(xml.StartElement); ok && !slices.Contains(allowed, e.Name.Local) {
			return fmt.Errorf("element %s", e.Name.Local)
		}
	}
}

// outsideText is an SVG without what stands between its tags.
func outsideText(svg []byte) []byte {
	var out []byte
	in := false
	for _, c := range svg {
		switch c {
		case '<':
			in = true
		case '>':
			in = false
		}
		if in {
			out = append(out, c)
		}
	}
	return out
}

func TestSameDrawingTwice(t *testing.T) {
	for name, s := range systems(t) {
		a, b := Lay(s, Options{}), Lay(s, Options{})
		if !bytes.Equal(a.SVG(readings), b.SVG(readings)) || !bytes.Equal(a.SVG(readings), a.SVG(readings)) {
			t.Errorf("%s: drawn twice, the SVG is another", name)
		}
		if !slices.Equal(a.Text(nil, 40), b.Text(nil, 40)) {
			t.Errorf("%s: drawn twice, the text is another", name)
		}
	}
}

// However many stand in a row, their signs stand between the two lanes.
func TestUnitsKeepBetweenTheLanes(t *testing.T) {
	for n := 1; n <= 24; n++ {
		for width := leastText; width <= 60; width++ {
			p := Lay(Standard(), Options{}).pen(nil, width)
			r := row{kind: unitsRow, units: numbered("battery", 0, n, n), up: [2]bool{true, false}, down: [2]bool{false, true}}
			got := p.row(r, true)[0]
			want := p.unitSigns(r.units, p.at(minusLane)-lane0-1)
			if got[lane0] != '+' || got[p.at(minusLane)] != '+' || !strings.Contains(got, want) {
				t.Errorf("%d units at %d columns: %q lacks %q or a corner", n, width, got, want)
			}
		}
	}
}

// hostile are names that nobody means well with.
var hostile = []string{
	"</title><script>alert(1)</script>", `" onload="x`, "<!--", "]]>", "&amp;&lt;&#0;", "a\x1b[31mred\x1b[0m", "a\x00b\x07", "line\nbreak\r\ttab",
	"\u202egnirts\u202c", "\u200b\u2060\ufeff", strings.Repeat("W", 500), strings.Repeat("a ", 300), "\xff\xfe", "日本語の電池の端子の上の長い名前です", "e" + strings.Repeat("\u0301", 60),
	"👩‍🔧 the mechanic", "../../etc/passwd", "](javascript:x)", "---", "", " ",
}

func TestHostileNames(t *testing.T) {
	for i, bad := range hostile {
		s := demo(t, "hut-05")
		s.Name, s.Earth = bad, bad
		for j := range s.Parts {
			s.Parts[j].Name = bad
		}
		for j := range s.Loads {
			s.Loads[j].Name = bad
		}
		marks := slices.Clone(readings)
		for j := range marks {
			marks[j].Label, marks[j].Value, marks[j].Word = bad, bad, bad
		}
		l := Lay(s, Options{ID: "x" + bad})
		if err := wellFormed(l.SVG(marks)); err != nil {
			t.Errorf("name %d: %v", i, err)
		}
		for _, width := range []int{30, 40, 80} {
			for _, line := range l.Text(marks, width) {
				for _, r := range line {
					if !unicode.IsGraphic(r) {
						t.Fatalf("name %d: %q holds %U", i, line, r)
					}
				}
				if columns(line) > width {
					t.Errorf("name %d at %d columns: %q", i, width, line)
				}
			}
			if e, ok := l.Around("post-pos", "post-neg", "", width); !ok || len(e.Lines) > mostAround || strings.ContainsFunc(e.Spoken, func(r rune) bool { return !unicode.IsGraphic(r) }) {
				t.Errorf("name %d at %d columns: %v %d lines, %q", i, width, ok, len(e.Lines), e.Spoken)
			}
		}
	}
}

// FuzzNames tries any name in every place where a name can stand.
func FuzzNames(f *testing.F) {
	for _, bad := range hostile {
		f.Add(bad, 40)
	}
	f.Fuzz(func(t *testing.T, name string, width int) {
		s := Standard()
		s.Name, s.Earth, s.Battery.Chemistry = name, name, name
		for i := range s.Parts {
			s.Parts[i].Name = name
		}
		s.Loads[0].Name = name
		l := Lay(s, Options{})
		marks := []Mark{{From: "post-pos", To: "post-neg", Label: name, Value: name, Word: name, Verdict: Close}, {At: name, Value: name}}
		if err := wellFormed(l.SVG(marks)); err != nil {
			t.Error(err)
		}
		width = leastText + abs(width%100)
		for _, line := range l.Text(marks, width) {
			if columns(line) > width {
				t.Errorf("%q has %d columns and not %d", line, columns(line), width)
			}
		}
	})
}
