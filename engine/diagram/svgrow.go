package diagram

import "strings"

// lettersIn is how many letters stand in a width.
func lettersIn(wide float64) int { return int(wide / letterW) }

// room is where a row's words stand, from one x to another.
func (s *sheet) room(r row) (from, to float64) {
	on := both(r.up, r.down)
	from, to = s.left+wordsAt, s.left+halfWide-wordsAt
	if r.lane == plusLane && !on[minusLane] {
		to = s.left + halfWide - spineAt - 12
	}
	if r.lane == minusLane && !on[plusLane] {
		from = s.left + spineAt + 12
	}
	return from, to
}

// labels are the lines of words beside a part.
func (s *sheet) labels(r row) []string {
	from, to := s.room(r)
	return wrap(strings.Join(append([]string{r.name}, r.more...), ", "), lettersIn(to-from))
}

// tagWords are the lines of words beside a tag: so many with the value, the others
// with what was read.
func (s *sheet) tagWords(r row, t tag) (lines []string, value int) {
	if !t.full {
		return []string{""}, 0
	}
	from, to := s.room(r)
	m := s.marks[t.mark]
	head, label := m.says()
	head = strings.TrimSpace(strings.Replace(head, verdicts[m.Verdict].shape, "", 1))
	lines = wrap(head, lettersIn(to-from-verdictWide(m.Verdict)))
	value = len(lines)
	if label != "" {
		lines = append(lines, wrap(label, lettersIn(to-from))...)
	}
	return lines, value
}

// tagTall is the height of a tag with its words.
func (s *sheet) tagTall(r row, t tag) float64 {
	lines, _ := s.tagWords(r, t)
	return float64(len(lines))*lineTall + 9
}

// verdictWide is the room of a verdict's shape with the gap beside it.
func verdictWide(v Verdict) float64 {
	if v == NoVerdict {
		return 0
	}
	return 22
}

// tall is the height of a row.
func (s *sheet) tall(r row) float64 {
	tags := 0.0
	for _, t := range r.tags {
		tags += s.tagTall(r, t)
	}
	switch r.kind {
	case titleRow:
		return titleTall
	case partRow:
		return tags + partTall + float64(len(s.labels(r))-1)*lineTall
	case pointRow:
		return tags
	case unitsRow:
		return 52 + float64(len(r.more))*lineTall
	case boxRow:
		tall := float64(len(s.boxWords(r)))*lineTall + 34
		if r.ends[0] != "" && r.ends[2] != "" { // signs of terminals above each other
			tall = max(tall, 66)
		}
		return tall
	}
	return partTall
}

func (s *sheet) boxWords(r row) []string {
	var out []string
	for _, m := range append([]string{r.name}, r.more...) {
		out = append(out, wrap(m, lettersIn(halfWide-2*laneAt-30))...)
	}
	return out
}

// row draws a row whose upper edge is at y.
func (s *sheet) row(r row, y float64) {
	bottom := y + s.tall(r)
	mid := y + partTall/2
	switch r.kind {
	case titleRow:
		mid = y + 20
		s.toBars(r, mid, bottom)
		from, to := s.left+wordsAt, s.left+halfWide-spineAt-12
		if r.bars[minusLane] {
			to = s.left + halfWide - wordsAt
		}
		s.words("head", "start", from, mid, clip(strings.ToUpper(r.name), lettersIn(to-from)))
	case leaveRow:
		s.toBars(r, mid, y)
	case partRow:
		s.pass(r, y, bottom, r.lane)
		s.part(r, y, bottom)
	case pointRow:
		s.pass(r, y, bottom, r.lane)
		s.tags(r, y, bottom)
	case unitsRow:
		s.units(r, y, bottom)
	case boxRow:
		s.box(r, y, bottom)
	case noteRow:
		on := both(r.up, r.down)
		on[r.lane] = true
		for x := range lane(2) {
			if on[x] {
				s.wire("wire dots", s.x(x), y+2, s.x(x), bottom-2)
			}
		}
		from, to := s.room(r)
		s.beside(r.lane, "quiet", from, to, mid, clip(r.name, lettersIn(to-from)))
	}
}

// beside writes words beside a lane.
func (s *sheet) beside(x lane, class string, from, to, y float64, text string) {
	if x == plusLane {
		s.words(class, "start", from, y, text)
		return
	}
	s.words(class, "end", to, y, text)
}

// pass draws the line of the other lane past a row.
func (s *sheet) pass(r row, y, bottom float64, but lane) {
	if x := 1 - but; r.up[x] && r.down[x] {
		s.wire("wire", s.x(x), y, s.x(x), bottom)
	}
}

// toBars draws lines from the bars into the lanes, which go on to another height.
func (s *sheet) toBars(r row, y, on float64) {
	for x := range lane(2) {
		if r.bars[x] {
			s.wire("wire", s.spine(x), y, s.x(x), y, s.x(x), on)
			s.shape("a joint at the bar", s.spine(x)-4, y-4, 8, 8, `<circle class="wire ink" cx="%s" cy="%s" r="3"/>`, num(s.spine(x)), num(y))
		} else if r.up[x] && r.down[x] {
			s.wire("wire", s.x(x), y, s.x(x), on)
		}
	}
}

// part draws a part in its lane, and the marks that stand at it.
func (s *sheet) part(r row, y, bottom float64) {
	x, mid := s.x(r.lane), y+partTall/2
	top, low := mid, mid
	if r.up[r.lane] {
		top = y
	}
	if r.down[r.lane] {
		low = bottom
	}
	s.symbol(r.sym, x, mid, top, low)
	from, to := s.room(r)
	class := ""
	if r.sym == symWire {
		class = "quiet"
	}
	for i, w := range s.labels(r) {
		s.beside(r.lane, class, from, to, mid+float64(i)*lineTall, w)
	}
	if len(r.tags) > 0 {
		s.tags(r, mid+partTall/2+float64(len(s.labels(r))-1)*lineTall, bottom)
	}
}

// tags draws marks in a lane: a plate with the number, and beside it what was read.
func (s *sheet) tags(r row, y, bottom float64) {
	x := s.x(r.lane)
	if r.kind == pointRow && (r.up[r.lane] || r.down[r.lane]) {
		s.wire("wire", x, y, x, bottom)
	}
	from, to := s.room(r)
	for _, t := range r.tags {
		mid := y + 4 + lineTall/2
		s.plate(t, x, mid)
		v, shift := NoVerdict, 0.0
		if t.full {
			v = s.marks[t.mark].Verdict
			shift = verdictWide(v)
		}
		if r.lane == plusLane {
			s.verdict(v, from+8, mid)
		} else {
			s.verdict(v, to-8, mid)
		}
		lines, value := s.tagWords(r, t)
		for i, w := range lines {
			at := mid + float64(i)*lineTall
			if i < value {
				s.beside(r.lane, "value", from+shift, to-shift, at, w)
			} else {
				s.beside(r.lane, "quiet", from, to, at, w)
			}
		}
		y += s.tagTall(r, t)
	}
}

// plate is the number of a mark: outlined in red for the red probe, filled for the
// black one, plain where there were no probes.
func (s *sheet) plate(t tag, x, y float64) {
	text := strings.Replace(t.text, "-", "−", 1)
	wide := float64(columns(text))*letterW + 10
	class, on := "body", "value"
	switch t.sign {
	case 1:
		class, on = "red", "onred"
	case -1:
		class, on = "body ink", "onink"
	}
	s.shape("plate "+t.text, x-wide/2, y-9, wide, 18, `<rect class="%s" x="%s" y="%s" width="%s" height="18" rx="4"/>`, class, num(x-wide/2), num(y-9), num(wide))
	s.over.WriteString(`<text class="` + on + `" text-anchor="middle" x="` + num(x) + `" y="` + num(y+4) + `">` + escaped(text) + "</text>\n")
}
