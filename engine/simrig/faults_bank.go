package simrig

import (
	"strings"

	"hotlug/engine/electric"
	"hotlug/engine/rig"
)

func abreast(s *rig.System) bool { return s.Battery.Parallel > 1 }
func inRow(s *rig.System) bool   { return s.Battery.Series > 1 && lead(s) }

// blockAt picks one of the bank's batteries by chance, not the first of them.
func blockAt(p *Plant, chance float64) *Block {
	blocks := p.blocks()
	i := 1 + int(chance*float64(len(blocks)-1))
	return &blocks[min(i, len(blocks)-1)]
}

// stringAt does something to every battery of one string, not the first.
func stringAt(p *Plant, chance float64, do func(x *Block)) {
	b := p.Sys.Battery
	blocks := p.blocks()
	i := min(1+int(chance*float64(b.Parallel-1)), b.Parallel-1)
	for k := range max(1, b.Series) {
		do(&blocks[i*max(1, b.Series)+k])
	}
}

// stringOhm is the resistance of one of the strings side by side.
func stringOhm(p *Plant) float64 { return p.Battery.Ohm * float64(max(1, p.Sys.Battery.Parallel)) }

// bankFaults are batteries that do not do equal work.
func bankFaults() []*Fault {
	return []*Fault{
		{
			ID: "bank-part-off", Name: "one of the batteries is switched off",
			Sites: when(abreast),
			Apply: func(p *Plant, _ string, _, chance float64) {
				stringAt(p, chance, func(x *Block) { x.Off = true })
			},
			Seen:   "The little switch on it points to off.",
			Repair: "All are charged full, and it is switched on.",
			Shown:  []string{uneven}, Source: "practice",
		},
		{
			ID: "pack-asleep", Name: "one of the lithium batteries is asleep",
			Sites: when(func(s *rig.System) bool { return abreast(s) && hasBMS(s) }),
			Apply: func(p *Plant, _ string, _, chance float64) {
				stringAt(p, chance, func(x *Block) { x.Asleep = true })
			},
			Seen:   "Its lamp is dark.",
			Repair: "It is parted, woken and charged, and joined when all are level.",
			Shown:  []string{uneven}, Source: "practice",
		},
		{
			ID: "links-thin", Name: "the plus links between the batteries are too thin",
			Sites: when(func(s *rig.System) bool {
				mm2 := thinLinkMM2(NewPlant(s), 0.6)
				thinnest := thinLinkMM2(NewPlant(s), 1.4)
				// One that burns at the first sun is another complaint.
				bears := figure(0)(electric.WireTableAmps(max(0.75, thinnest), 105)) > 0.5*s.ChargeAmps()
				return abreast(s) && bears && mm2 > leastMM2 && mm2 < 0.9*thinLink*mainMM2(s)
			}),
			Lo: 0.6, Hi: 1.4, Unit: "of a battery's resistance, each",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				for _, q := range p.Sys.Parts {
					if isLink(q) && q.Kind == rig.Wire && !q.Minus {
						p.Parts[q.ID].TrueMM2 = thinLinkMM2(p, severity)
					}
				}
			},
			Seen:   "Lamp cord joins the batteries.",
			Repair: "Links as thick as the main leads are fitted.",
			Shown:  []string{uneven}, Source: "Ohm's law; practice",
		},
		{
			ID: "bank-fed-one-end", Name: "both main leads sit on the first battery",
			Sites: when(abreast), Lo: 0.3, Hi: 0.7, Unit: "of a battery's resistance in each link",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				p.Battery.OneEnd = true
				for _, q := range p.Sys.Parts {
					if isLink(q) && q.Kind == rig.Wire {
						p.Parts[q.ID].FaceOhm = severity * stringOhm(p)
					}
				}
			},
			Seen:   "Both fat leads go to the first battery.",
			Repair: "The minus lead is moved to the last battery, and the links are renewed.",
			Shown:  []string{uneven}, Source: "Ohm's law: the way to the last is longer by all links",
		},
		{
			ID: "link-loose", Name: "a link between the batteries is loose",
			Sites: parts(func(s *rig.System, q rig.Part) bool { return isLink(q) && q.Kind == rig.Joint }),
			Lo:    1, Hi: 4, Log: true, Unit: "of a battery's resistance",
			Apply: on(func(p *Plant, x *Part, severity, _ float64) {
				x.FaceOhm, x.Look = severity*stringOhm(p), "dull-film"
			}),
			Repair: "The link's joints are brushed bright and tightened.",
			Shown:  []string{uneven}, Source: "Holm; practice",
		},
		{
			ID: "battery-bad-in-bank", Name: "one battery of the bank has failed",
			Sites: when(func(s *rig.System) bool { return abreast(s) || inRow(s) }), Lo: 0.5, Hi: 1.4, Unit: "V too low for each battery, parted",
			Apply: func(p *Plant, _ string, severity, chance float64) {
				x := blockAt(p, chance)
				x.Low, x.Ah, x.Times, x.Warm = severity, 0.4, 6*float64(max(1, p.Sys.Battery.Series)), true
				if chance > 0.5 && lead(p.Sys) {
					x.Low, x.Dead = 0, 1
				}
			},
			Seen:   "One of them is always a little warm.",
			Repair: "It is replaced, and all are charged alike.",
			Shown:  []string{uneven}, Source: "battery textbook",
		},
		{
			ID: "batteries-mixed", Name: "batteries of different age are joined",
			Sites: when(func(s *rig.System) bool { return abreast(s) }), Lo: 0.35, Hi: 0.6, Unit: "of the other's amp-hours",
			Apply: func(p *Plant, _ string, severity, chance float64) {
				stringAt(p, chance, func(x *Block) { x.Ah, x.Times = severity, 1/severity })
				p.Battery.Look = "mixed-age-or-size"
			},
			Seen:   "One is black with dust, and one is new.",
			Repair: "All are of one age and kind again.",
			Shown:  []string{uneven}, Source: "battery textbook",
		},
		{
			ID: "string-drifted", Name: "the batteries of the string have drifted apart in charge",
			Sites: when(inRow), Lo: 17, Hi: 30, Unit: "% of charge",
			Apply: func(p *Plant, _ string, severity, chance float64) {
				blockAt(p, chance).Behind = severity
			},
			Repair: "Each is charged by itself, and a balancer is fitted.",
			Shown:  []string{uneven}, Source: "battery textbook; derived",
		},
		{
			ID: "battery-tapped", Name: "something draws from one battery of the string",
			Sites: when(inRow), Lo: 17, Hi: 35, Unit: "% of charge",
			Apply: func(p *Plant, _ string, severity, chance float64) {
				blockAt(p, chance).Behind = severity
				p.Battery.Look = "device-on-one-battery"
			},
			Seen:   "A thin red wire leaves from between the batteries.",
			Repair: "It is fed by a converter from the whole string, and each battery charged.",
			Shown:  []string{uneven}, Source: "Ohm's law; practice",
		},
	}
}

const leastMM2 = 0.5 // copper that somebody would take for a link

// linkMetres is the length of the first plus link.
func linkMetres(s *rig.System) float64 {
	for _, q := range s.Parts {
		if isLink(q) && q.Kind == rig.Wire && strings.HasPrefix(q.ID, "link-pos") {
			return q.Metres
		}
	}
	return 0.3
}

func mainMM2(s *rig.System) float64 {
	p, _ := s.Part("bat-pos")
	return p.MM2
}

// thinLinkMM2 is the copper of a link that has so many times a battery's resistance.
func thinLinkMM2(p *Plant, times float64) float64 {
	ohm := times * stringOhm(p)
	if ohm <= 0 {
		return mainMM2(p.Sys)
	}
	perMM2 := figure(0.006)(electric.WireOhm(linkMetres(p.Sys), 1, 30))
	return max(leastMM2, perMM2/ohm)
}
