package rig

import (
	"math"
	"slices"
	"strconv"

	"hotlug/engine/electric"
	"hotlug/engine/reading"
)

// Plan fills in what is left out of a system, and lays its parts by the standard
// plan: plus post, main fuse, isolator, bar; minus post, shunt, bar; controller,
// array, inverter and loads between the bars. Wires are sized by amps and drop,
// fuses by load and wire.
//
// Parts that are there already are wishes: what they give (size, length, rating,
// lay ...) stands, and is taken for the other parts of the same run where those
// give nothing. So planning twice changes nothing. Places that are there already
// stay as they are.
func Plan(s *System) {
	s.fill()
	p := &planner{s: s, wish: map[string]Part{}}
	for _, w := range s.Parts {
		p.wish[w.ID] = w
	}
	p.main()
	p.links()
	p.solar()
	p.array()
	p.inverter()
	for i, l := range s.Loads {
		if !l.AC {
			p.load(i, l)
		}
	}
	for _, w := range s.Parts { // parts of the person's own, between points of theirs
		if !p.has(w.ID) && w.A != "" && w.B != "" {
			p.parts = append(p.parts, w)
		}
	}
	s.Parts = p.parts
	if len(s.Places) == 0 {
		s.Places = places(s.Parts)
	}
}

// planner lays the parts of one system.
type planner struct {
	s     *System
	wish  map[string]Part
	parts []Part
}

func (p *planner) has(id string) bool {
	return slices.ContainsFunc(p.parts, func(x Part) bool { return x.ID == id })
}

// run is what the parts of one stretch have in common.
type run struct {
	circuit string
	minus   bool
	size    float64
	amps    float64
	lay     string
	mark    float64
}

// add lays a part. What is wished for it stands.
func (p *planner) add(r run, x Part) {
	x.Circuit, x.Minus = r.circuit, r.minus
	or(&x.MM2, r.size)
	or(&x.FullA, r.amps)
	if x.Kind == Wire {
		or(&x.Lay, r.lay)
		or(&x.MarkC, r.mark)
	}
	w := p.wish[x.ID]
	take(&x.Name, w.Name)
	take(&x.MM2, w.MM2)
	take(&x.Metres, w.Metres)
	take(&x.MarkC, w.MarkC)
	take(&x.Lay, w.Lay)
	take(&x.RatedA, w.RatedA)
	take(&x.FullA, w.FullA)
	take(&x.Style, w.Style)
	take(&x.A, w.A)
	take(&x.B, w.B)
	p.parts = append(p.parts, x)
}

// take sets what is wished.
func take[T comparable](v *T, wish T) {
	var none T
	if wish != none {
		*v = wish
	}
}

// wished is the first figure that one of the parts gives, or what is planned.
func (p *planner) wished(planned float64, of func(Part) float64, ids ...string) float64 {
	for _, id := range ids {
		if v := of(p.wish[id]); v > 0 {
			return v
		}
	}
	return planned
}

func mm2(x Part) float64    { return x.MM2 }
func fullA(x Part) float64  { return x.FullA }
func ratedA(x Part) float64 { return x.RatedA }
func markC(x Part) float64  { return x.MarkC }

// metres is the length of a wire, as wished or as planned.
func (p *planner) metres(id string, planned float64) float64 {
	return p.wished(planned, func(x Part) float64 { return x.Metres }, id)
}

// span are the usual lengths in a kind of rig, one way, in metres.
type span struct{ main, controller, inverter, pv, load float64 }

var spans = map[string]span{
	"hut":     {0.5, 1.0, 0.8, 5, 4},
	"van":     {0.4, 0.8, 0.6, 4, 4},
	"boat":    {0.8, 1.5, 1.0, 8, 6},
	"trailer": {0.4, 0.6, 0.5, 3, 3},
}

func (p *planner) span() span {
	if x, ok := spans[p.s.Kind]; ok {
		return x
	}
	return spans["hut"]
}

// main lays the way from the posts to the bars.
func (p *planner) main() {
	s := p.s
	ids := []string{"main-fuse", "bat-pos", "post-pos", "post-neg", "bat-neg", "main-pos-a", "main-pos-b", "main-fuse-bat", "main-fuse-bus", "main-isolator-bat", "main-isolator-bus", "bus-pos-main", "bus-neg-main"}
	amps := whole(p.wished(max(s.loadAmps(), s.ChargeAmps()), fullA, ids...))
	long := p.span().main
	lengths := 2*long + 0.18
	rating := p.wished(p.fuse(max(1.25*amps, 1.25*s.Controller.RatedA), amps), ratedA, "main-fuse")
	size := p.wished(max(p.lugged(rating), p.forDrop(amps, lengths, 0.012)), mm2, ids...)
	r := run{circuit: "battery", size: size, amps: amps, lay: "free", mark: 105}

	post := Part{Kind: Joint, Style: "post"}
	if !s.Battery.Lithium() {
		post.Style = "post-clamp"
	}
	noun := "lug"
	if post.Style == "post-clamp" {
		noun = "clamp"
	}
	p.add(r, Part{ID: "post-pos", Kind: Joint, Style: post.Style, Name: "the " + noun + " on the plus post", A: PostPos, B: "post-pos.conductor"})
	p.add(r, Part{ID: "bat-pos", Kind: Wire, Name: "the wire from the plus post to the main fuse", A: "post-pos.conductor", B: "main-fuse-bat.conductor", Metres: 0.18})
	p.add(r, Part{ID: "main-fuse-bat", Kind: Joint, Style: "stud", Name: "the stud of the main fuse on the battery side", A: "main-fuse-bat.conductor", B: "main-fuse.in"})
	p.add(r, Part{ID: "main-fuse", Kind: Fuse, Style: "bolted-holder", Name: "the main fuse holder", A: "main-fuse.in", B: "main-fuse.out", RatedA: rating})
	p.add(r, Part{ID: "main-fuse-bus", Kind: Joint, Style: "stud", Name: "the stud of the main fuse on the bus side", A: "main-fuse.out", B: "main-fuse-bus.conductor"})
	p.add(r, Part{ID: "main-pos-a", Kind: Wire, Name: "the wire from the main fuse to the isolator", A: "main-fuse-bus.conductor", B: "main-isolator-bat.conductor", Metres: long / 2})
	p.add(r, Part{ID: "main-isolator-bat", Kind: Joint, Style: "stud", Name: "the stud of the isolator on the battery side", A: "main-isolator-bat.conductor", B: "main-isolator.in"})
	p.add(r, Part{ID: "main-isolator", Kind: Isolator, Name: "the battery isolator", A: "main-isolator.in", B: "main-isolator.out", RatedA: next([]float64{100, 150, 200, 300, 500}, rating)})
	p.add(r, Part{ID: "main-isolator-bus", Kind: Joint, Style: "stud", Name: "the stud of the isolator on the bus side", A: "main-isolator.out", B: "main-isolator-bus.conductor"})
	p.add(r, Part{ID: "main-pos-b", Kind: Wire, Name: "the wire from the isolator to the plus bar", A: "main-isolator-bus.conductor", B: "bus-pos-main.conductor", Metres: long / 2})
	p.add(r, Part{ID: "bus-pos-main", Kind: Joint, Style: "bar", Name: "the main lug on the plus bar", A: "bus-pos-main.conductor", B: BusPos})

	r.minus = true
	from := BusNeg
	neg := Part{ID: "bus-neg-main", Kind: Joint, Style: "bar", Name: "the main lug on the minus bar", A: from, B: "bus-neg-main.conductor"}
	if s.Monitor.Shunt == "" {
		p.add(r, neg)
		p.add(r, Part{ID: "bat-neg", Kind: Wire, Name: "the wire from the minus bar to the minus post", A: "bus-neg-main.conductor", B: "post-neg.conductor", Metres: long})
	} else {
		neg.B = ShuntSys
		p.add(r, neg)
		p.add(r, Part{ID: "shunt", Kind: Shunt, Name: "the shunt", A: ShuntSys, B: ShuntBat, RatedA: shuntAmps(s.Monitor.Shunt)})
		p.add(r, Part{ID: "bat-neg", Kind: Wire, Name: "the wire from the shunt to the minus post", A: ShuntBat, B: "post-neg.conductor", Metres: long})
	}
	p.add(r, Part{ID: "post-neg", Kind: Joint, Style: post.Style, Name: "the " + noun + " on the minus post", A: "post-neg.conductor", B: PostNeg})
}

// links lays the links between batteries side by side: two joints and a wire on
// either side for each neighbour, named a and b, c and d and so on.
func (p *planner) links() {
	s := p.s
	if s.Battery.Parallel < 2 {
		return
	}
	amps := p.parts[0].FullA
	size := p.parts[0].MM2
	for i := range s.Battery.Parallel - 1 {
		nearPos, nearNeg := s.StringEnds(i)
		farPos, farNeg := s.StringEnds(i + 1)
		// Each link carries what the batteries behind it give.
		behind := float64(s.Battery.Parallel-1-i) / float64(s.Battery.Parallel)
		near, far := letter(2*i), letter(2*i+1)
		first, second := nth(i)+" battery", nth(i+1)+" battery"
		for _, side := range []struct {
			word     string
			minus    bool
			share    float64
			from, to string // as current flows on discharge
			ja, jb   string
		}{
			{"pos", false, behind, farPos, nearPos, "link-pos-" + far, "link-pos-" + near},
			{"neg", true, 1 - behind, farNeg, nearNeg, "link-neg-" + far, "link-neg-" + near},
		} {
			a := whole(p.wished(amps*side.share, fullA, side.ja, side.jb))
			r := run{circuit: "battery", minus: side.minus, size: p.wished(size, mm2, side.ja, side.jb), amps: a, lay: "free", mark: 105}
			word := map[bool]string{false: "plus", true: "minus"}[side.minus]
			wire := "link-" + side.word
			if i > 0 {
				wire += "-" + strconv.Itoa(i+1)
			}
			p.add(r, Part{ID: side.ja, Kind: Joint, Style: "link", Name: "the " + word + " link on the " + second, A: side.from, B: side.ja + ".conductor"})
			p.add(r, Part{ID: wire, Kind: Wire, Name: "the " + word + " link between " + first + " and " + second, A: side.ja + ".conductor", B: side.jb + ".conductor", Metres: 0.3})
			p.add(r, Part{ID: side.jb, Kind: Joint, Style: "link", Name: "the " + word + " link on the " + first, A: side.jb + ".conductor", B: side.to})
		}
	}
}

// solar lays the way from the bars to the controller.
func (p *planner) solar() {
	s := p.s
	long := p.span().controller
	ids := []string{"controller-fuse", "ctl-pos-bus", "ctl-pos", "ctl-neg", "ctl-pos-splice", "ctl-neg-splice"}
	amps := whole(p.wished(s.ChargeAmps(), fullA, ids...))
	rating := p.wished(p.fuse(1.25*s.Controller.RatedA, amps), ratedA, "controller-fuse")
	size := p.wished(max(p.bundled(rating, 70), p.forDrop(amps, long, 0.01)), mm2, ids...)
	r := run{circuit: "controller", size: size, amps: amps, lay: "bundled", mark: 70}
	p.add(r, Part{ID: "ctl-pos-bus", Kind: Wire, Name: "the wire from the plus bar to the controller's fuse", A: BusPos, B: CtlFuseBus, Metres: 0.15})
	p.add(r, Part{ID: "controller-fuse", Kind: Fuse, Style: p.holder(rating), Name: "the fuse holder of the controller", A: CtlFuseBus, B: CtlFuseCtl, RatedA: rating})
	p.add(r, Part{ID: "ctl-pos-splice", Kind: Splice, Name: "the splice in the controller's plus wire", A: CtlFuseCtl, B: "ctl-pos-splice.out"})
	p.add(r, Part{ID: "ctl-pos", Kind: Wire, Name: "the wire from the controller's fuse to the controller", A: "ctl-pos-splice.out", B: CtlBatPos, Metres: long})
	r.minus = true
	p.add(r, Part{ID: "ctl-neg", Kind: Wire, Name: "the controller's minus wire", A: CtlBatNeg, B: "ctl-neg-splice.in", Metres: long})
	p.add(r, Part{ID: "ctl-neg-splice", Kind: Splice, Name: "the splice in the controller's minus wire", A: "ctl-neg-splice.in", B: BusNeg})
}

// array lays the way from the array to the controller.
func (p *planner) array() {
	s := p.s
	long := p.metres("pv-pos", p.span().pv)
	amps := p.wished(tidy3(s.Array.Isc*float64(s.Array.Parallel)), fullA, "pv-pos", "pv-neg")
	volts := s.Array.Vmp * float64(s.Array.Series)
	size := p.wished(max(4, p.bundled(1.25*amps, 90), p.forDropOf(volts, amps, long+1, 0.025)), mm2, "pv-pos", "pv-neg", "pv-pos-ctl", "pv-neg-ctl")
	r := run{circuit: "array", size: size, amps: amps, lay: "bundled", mark: 90}
	sw := Part{ID: "pv-isolator", Kind: Isolator, Name: "the solar switch", A: PVIsoArray, B: PVIsoCtl, RatedA: next([]float64{16, 25, 32, 40, 50, 63, 80}, 1.25*amps)}
	if s.Array.Breaker {
		sw.Kind = Breaker
	}
	p.add(r, Part{ID: "pv-plug-pos", Kind: PVPlug, Name: "the plus plug at the panels", A: ArrayPos, B: "pv-plug-pos.out"})
	p.add(r, Part{ID: "pv-pos", Kind: Wire, Name: "the plus wire from the panels to the solar switch", A: "pv-plug-pos.out", B: PVIsoArray, Metres: long})
	p.add(r, sw)
	p.add(r, Part{ID: "pv-pos-ctl", Kind: Wire, Name: "the wire from the solar switch to the controller", A: PVIsoCtl, B: CtlPVPos, Metres: 1})
	r.minus = true
	p.add(r, Part{ID: "pv-neg-ctl", Kind: Wire, Name: "the minus wire from the controller to the solar switch", A: CtlPVNeg, B: PVReturn, Metres: 1})
	p.add(r, Part{ID: "pv-neg", Kind: Wire, Name: "the minus wire from the solar switch to the panels", A: PVReturn, B: "pv-plug-neg.in", Metres: long})
	p.add(r, Part{ID: "pv-plug-neg", Kind: PVPlug, Name: "the minus plug at the panels", A: "pv-plug-neg.in", B: ArrayNeg})
}

// inverter lays the way from the bars to the inverter.
func (p *planner) inverter() {
	s := p.s
	if s.Inverter.Watts == 0 {
		return
	}
	long := p.span().inverter
	ids := []string{"inv-pos", "inv-neg", "inv-lug-pos", "inv-lug-neg", "inverter-fuse"}
	amps := whole(p.wished(s.InverterAmps(), fullA, ids...))
	// Without a fuse of its own its wire is guarded by the main fuse.
	guard := p.part("main-fuse").RatedA
	if s.Inverter.Fused {
		guard = p.wished(p.fuse(1.25*amps, amps), ratedA, "inverter-fuse")
	}
	size := p.wished(max(p.lugged(guard), p.forDrop(amps, long, 0.01)), mm2, ids...)
	r := run{circuit: "inverter", size: size, amps: amps, lay: "free", mark: 105}
	from := BusPos
	if s.Inverter.Fused {
		p.add(r, Part{ID: "inverter-fuse", Kind: Fuse, Style: "bolted-holder", Name: "the fuse holder of the inverter", A: BusPos, B: "inverter-fuse.out", RatedA: guard})
		from = "inverter-fuse.out"
	}
	p.add(r, Part{ID: "inv-pos", Kind: Wire, Name: "the inverter's plus wire", A: from, B: "inv-lug-pos.conductor", Metres: long})
	p.add(r, Part{ID: "inv-lug-pos", Kind: Joint, Style: "inverter-stud", Name: "the lug on the inverter's plus stud", A: "inv-lug-pos.conductor", B: InvPos})
	r.minus = true
	p.add(r, Part{ID: "inv-lug-neg", Kind: Joint, Style: "inverter-stud", Name: "the lug on the inverter's minus stud", A: InvNeg, B: "inv-lug-neg.conductor"})
	p.add(r, Part{ID: "inv-neg", Kind: Wire, Name: "the inverter's minus wire", A: "inv-lug-neg.conductor", B: BusNeg, Metres: long})
}

// load lays the way from the bars to a load and back.
func (p *planner) load(i int, l Load) {
	id := l.ID
	// Loads are not all equally far away.
	long := p.metres(id, p.span().load*[]float64{1, 0.6, 1.3, 0.8}[i%4])
	ids := []string{id + "-fuse", id, id + "-return", id + "-screw", id + "-plug", id + "-switch"}
	amps := half(p.wished(p.s.Amps(l), fullA, ids...))
	rating := p.wished(p.fuse(1.25*amps, amps), ratedA, id+"-fuse")
	size := p.wished(max(1.5, p.bundled(rating, 70), p.forDrop(amps, long, 0.025)), mm2, ids...)
	r := run{circuit: id, size: size, amps: amps, lay: "bundled", mark: p.wished(70, markC, id)}
	points := []string{id + "-fuse.out", id + "-screw.in"}
	inner := []Part{{ID: id + "-screw", Kind: Screw, Name: "the screw terminal of " + l.Name}}
	if l.Plug != "" {
		inner = append(inner, Part{ID: id + "-plug", Kind: Plug, Style: l.Plug, Name: "the plug of " + l.Name, RatedA: map[string]float64{"heavy": 50, "small": 10}[l.Plug]})
	}
	if l.Switch {
		inner = append(inner, Part{ID: id + "-switch", Kind: Switch, Name: "the switch of " + l.Name})
	}
	p.add(r, Part{ID: id + "-fuse", Kind: Fuse, Style: p.holder(rating), Name: "the fuse holder of " + l.Name, A: BusPos, B: points[0], RatedA: rating})
	p.add(r, Part{ID: id, Kind: Wire, Name: "the wire to " + l.Name, A: points[0], B: points[1], Metres: long})
	at := points[1]
	for k, x := range inner {
		x.A, x.B = at, x.ID+".out"
		if k == len(inner)-1 {
			x.B = LoadPos(id)
		}
		at = x.B
		p.add(r, x)
	}
	r.minus = true
	p.add(r, Part{ID: id + "-return", Kind: Wire, Name: "the minus wire of " + l.Name, A: LoadNeg(id), B: BusNeg, Metres: long})
}

func (p *planner) part(id string) Part {
	for _, x := range p.parts {
		if x.ID == id {
			return x
		}
	}
	return Part{}
}

// fuse is the standard rating not below least whose clips stay cool under steady
// amps.
func (p *planner) fuse(least, amps float64) float64 {
	for _, rating := range electric.FuseRatings() {
		seat := map[string]int{"blade-holder": 0, "bolted-holder": 1}[p.holder(rating)]
		if cool, err := electric.HolderRating(amps, seat); err == nil && rating >= max(least, cool)-1e-9 {
			return rating
		}
	}
	return slices.Max(electric.FuseRatings())
}

// holder is how a fuse of a rating is held. Blades are for low volts and amps.
func (p *planner) holder(rating float64) string {
	if rating > 40 || p.s.Volts > 24 {
		return "bolted-holder"
	}
	return "blade-holder"
}

// air is the temperature that wires are sized for.
func (p *planner) air() float64 { return min(max(p.s.AmbientC, 30), 50) }

// lugged is the least wire whose lugs stand the amps of a fuse.
func (p *planner) lugged(amps float64) float64 {
	for _, size := range electric.Sizes() {
		if a, err := electric.LugAllow(size, p.air()); err == nil && a >= amps {
			return size
		}
	}
	return thickest()
}

// bundled is the least wire that carries amps in a bundle of three.
func (p *planner) bundled(amps, mark float64) float64 {
	v, err := electric.WireForAmps(amps, mark, p.air(), electric.Bundled, 3)
	if err != nil {
		return thickest()
	}
	return v
}

// forDrop is the least wire with which amps drop no more than part of the
// system's volts there and back.
func (p *planner) forDrop(amps, metres, part float64) float64 {
	return p.forDropOf(p.s.Volts, amps, metres, part)
}

func (p *planner) forDropOf(volts, amps, metres, part float64) float64 {
	v, err := electric.WireForDrop(amps, metres, part*volts)
	if err != nil {
		return thickest()
	}
	return v
}

func thickest() float64 {
	sizes := electric.Sizes()
	return sizes[len(sizes)-1]
}

// places are the fuses and joints among the parts, as a rig file lists them.
func places(parts []Part) []reading.PlaceOnRig {
	var fuses, joints []reading.PlaceOnRig
	for _, x := range parts {
		switch x.Kind {
		case Fuse:
			fuses = append(fuses, reading.PlaceOnRig{ID: x.ID, Class: "fuse", Name: x.Name, Like: x.Style})
		case Joint:
			joints = append(joints, reading.PlaceOnRig{ID: x.ID, Class: "joint", Name: x.Name, Like: x.Style})
		}
	}
	return append(fuses, joints...)
}

// shuntAmps is the rating in a shunt's label, "500A-50mV".
func shuntAmps(label string) float64 {
	digits := 0
	for digits < len(label) && label[digits] >= '0' && label[digits] <= '9' {
		digits++
	}
	v, err := strconv.Atoi(label[:digits])
	if err != nil {
		return 0
	}
	return float64(v)
}

// whole rounds amps up to whole ones from 10 A on, half to halves.
func whole(a float64) float64 {
	if a < 10 {
		return half(a)
	}
	return math.Ceil(a - 1e-9)
}

func half(a float64) float64 { return math.Max(0.5, math.Ceil(2*a-1e-9)/2) }

func letter(i int) string { return string(rune('a' + i)) }

func nth(i int) string {
	words := []string{"first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth"}
	if i < len(words) {
		return words[i]
	}
	return "next"
}
