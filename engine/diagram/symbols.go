package diagram

import (
	"slices"
	"strings"
)

// symbol draws a part around y in a lane at x; the lane's line comes from top and
// goes on to low. The shapes follow the manner of IEC 60617: a fuse is an oblong
// with its wire through it, a switch an open blade, with a cross on its contact
// where it breaks by itself and a bar where it isolates.
func (s *sheet) symbol(sym symbol, x, y, top, low float64) {
	const half = 10.0
	through := func() {
		if low > top {
			s.wire("wire", x, top, x, low)
		}
	}
	gap := func() {
		s.wire("wire", x, min(top, y-half), x, y-half)
		s.wire("wire", x, y+half, x, max(low, y+half))
	}
	blade := func(more string) {
		gap()
		s.shape(string(sym), x-9, y-half, 18, 2*half, `<path class="wire" d="M%s %sL%s %s"/>%s`, num(x), num(y+half), num(x-8), num(y-half+2), more)
	}
	switch sym {
	case symWire:
		through()
	case symFuse:
		through()
		s.shape("fuse", x-5, y-half, 10, 2*half, `<rect class="body" x="%s" y="%s" width="10" height="20"/><path class="wire" d="M%s %sV%s"/>`, num(x-5), num(y-half), num(x), num(y-half), num(y+half))
	case symSwitch:
		blade("")
	case symIsolator:
		blade(`<path class="wire" d="M` + num(x-5) + " " + num(y-half) + "H" + num(x+5) + `"/>`)
	case symBreaker:
		blade(`<path class="wire" d="M` + num(x-4) + " " + num(y-half-3) + "L" + num(x+4) + " " + num(y-half+5) + "M" + num(x+4) + " " + num(y-half-3) + "L" + num(x-4) + " " + num(y-half+5) + `"/>`)
	case symPlug:
		through()
		s.shape("plug", x-7, y-8, 14, 16, `<path class="body" d="M%s %sA7 7 0 0 1 %s %s"/><rect class="body ink" x="%s" y="%s" width="4" height="9"/>`, num(x-7), num(y-1), num(x+7), num(y-1), num(x-2), num(y-1))
	case symShunt:
		through()
		s.shape("shunt", x-6, y-half, 12, 2*half, `<rect class="body" x="%s" y="%s" width="12" height="20"/><path class="thin" d="M%s %sh5M%s %sh5"/>`, num(x-6), num(y-half), num(x+6), num(y-5), num(x+6), num(y+5))
	case symGap:
		gap()
		s.shape("gap", x-5, y-half, 10, 2*half, `<circle class="body" cx="%s" cy="%s" r="3"/><circle class="body" cx="%s" cy="%s" r="3"/>`, num(x), num(y-half), num(x), num(y+half))
	case symEarth:
		s.earth(x, y)
	default:
		through()
		s.shape("joint", x-4, y-4, 8, 8, `<circle class="body" cx="%s" cy="%s" r="4"/>`, num(x), num(y))
	}
}

// earth draws the frame or the ground: three lines, each shorter than the last.
func (s *sheet) earth(x, y float64) {
	s.shape("earth", x-9, y-9, 18, 18, `<path class="wire" d="M%s %sv7M%s %sh18M%s %sh11M%s %sh4"/>`, num(x), num(y-9), num(x-9), num(y-2), num(x-5.5), num(y+2.5), num(x-2), num(y+7))
}

// verdict draws a verdict's shape: a circle with a hook, a triangle with a stroke,
// a diamond with a question mark.
func (s *sheet) verdict(v Verdict, x, y float64) {
	switch v {
	case InOrder:
		s.shape("in order", x-7, y-7, 14, 14, `<path class="good" d="M%s %sa7 7 0 1 0 14 0a7 7 0 1 0 -14 0M%s %sl3 3l5 -6"/>`, num(x-7), num(y), num(x-4), num(y))
	case AtFault:
		s.shape("at fault", x-8, y-8, 16, 15, `<path class="bad" d="M%s %sl8 14h-16zM%s %sv5m0 2.2v.6"/>`, num(x), num(y-8), num(x), num(y-3))
	case Close:
		s.shape("close", x-8, y-8, 16, 16, `<path class="open" d="M%s %sl8 8l-8 8l-8 -8zM%s %sc.5 -3 4.6 -2 3.6 .6c-.4 1 -1.6 1.2 -1.6 2.6m0 1.8v.5"/>`, num(x), num(y-8), num(x-1.9), num(y-2))
	}
}

// units draws batteries or panels from lane to lane, each with its name above.
func (s *sheet) units(r row, y, bottom float64) {
	left, right := s.x(plusLane), s.x(minusLane)
	mid := y + 32
	for x := range lane(2) {
		if r.up[x] {
			s.wire("wire", s.x(x), y, s.x(x), mid)
		}
		if r.down[x] {
			s.wire("wire", s.x(x), mid, s.x(x), bottom)
		}
	}
	units := slices.Clone(r.units)
	const most = 4 // that stand side by side
	if n := len(units); n > most {
		units = []string{units[0], units[1], "..", units[n-1]}
	}
	if len(units) > 2 { // there is room for the numbers only
		for i, u := range units {
			units[i] = u[strings.LastIndexByte(u, ' ')+1:]
		}
	}
	step := (right - left) / float64(len(units))
	at := left
	for i, u := range units {
		x := left + step*(float64(i)+0.5)
		s.words("", "middle", x, y+9, clip(u, lettersIn(step)))
		if u == ".." {
			s.wire("wire", at, mid, x-step/4, mid)
			s.wire("wire dots", x-step/4, mid, x+step/4, mid)
			at = x + step/4
			continue
		}
		if r.sym == symBattery {
			s.wire("wire", at, mid, x-9, mid)
			s.shape("battery", x-12, mid-12, 24, 24, `<path class="wire" d="M%s %sv24M%s %sv24M%s %sh5"/><path class="thick" d="M%s %sv12M%s %sv12"/>`,
				num(x-9), num(mid-12), num(x+4), num(mid-12), num(x-4), num(mid), num(x-3), num(mid-6), num(x+10), num(mid-6))
			at = x + 10
			continue
		}
		s.wire("wire", at, mid, x-14, mid)
		s.shape("panel", x-14, mid-9, 28, 18, `<path class="body" d="M%s %sh28v18h-28zM%s %sl9 9l-9 9"/>`, num(x-14), num(mid-9), num(x-14), num(mid-9))
		at = x + 14
	}
	s.wire("wire", at, mid, right, mid)
	for i, m := range r.more {
		s.words("quiet", "middle", (left+right)/2, mid+22+float64(i)*lineTall, clip(m, lettersIn(right-left-20)))
	}
}

// box draws what gives or takes current, with its terminals.
func (s *sheet) box(r row, y, bottom float64) {
	left, right := s.x(plusLane)-20, s.x(minusLane)+20
	top, low := y+8, bottom-8
	for i, e := range r.ends {
		x := s.x(lane(i % 2))
		switch {
		case e == "":
		case i < 2:
			s.wire("wire", x, y, x, top)
		default:
			s.wire("wire", x, low, x, bottom)
		}
	}
	s.shape("box "+r.name, left, top, right-left, low-top, `<rect class="body" x="%s" y="%s" width="%s" height="%s" rx="3"/>`, num(left), num(top), num(right-left), num(low-top))
	for i, e := range r.ends {
		if e == "" {
			continue
		}
		at := top + 9
		if i >= 2 {
			at = low - 9
		}
		s.over.WriteString(`<text class="quiet" text-anchor="middle" x="` + num(s.x(lane(i%2))) + `" y="` + num(at+4) + `">` + []string{"+", "−"}[i%2] + "</text>\n")
	}
	words := s.boxWords(r)
	at := (top+low)/2 - float64(len(words)-1)*lineTall/2
	for i, w := range words {
		class := ""
		if i > 0 {
			class = "quiet"
		}
		s.words(class, "middle", (left+right)/2, at+float64(i)*lineTall, w)
	}
}
