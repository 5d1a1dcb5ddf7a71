package simrig

import (
	"slices"

	"hotlug/engine/electric"
	"hotlug/engine/rig"
)

// Sound contacts, in ohms, from the joint sheet: the usual figure of the kind,
// and the volts that a sound one of whatever size stays under at its largest
// current. The smaller of the two holds, as large currents get large parts.
const (
	facesOfLug    = 2      // the lug's face and the way through nut and stud
	lugVolts      = 0.002  // face, and as much for the barrel
	postClampOhm  = 100e-6 // clamp on a lead post
	screwOhm      = 0.3e-3 // ferrule in a screw clamp
	screwVolts    = 0.004
	spliceOhm     = 0.2e-3
	spliceVolts   = 0.003
	pvPlugOhm     = 0.35e-3
	bladeClipsOhm = 1.2e-3 // both
	bladeVolts    = 0.020
	boltedOhm     = 60e-6 // both ends of a strip fuse
	boltedVolts   = 0.008
	switchOhm     = 150e-6 // isolator
	socketOhm     = 10e-3
	heavyPlugOhm  = 0.2e-3
	smallPlugOhm  = 1.5e-3
	barrelVolts   = 0.003 // crimp at the table amps of its wire
	studsVolts    = 0.05  // breaker larger than the rail-mounted ones, at its rating
	bleedOhm      = 47e3  // across the input of an inverter that is off
	usualSun      = 850   // W/m² on the array on a clear day
)

// figure is v, or instead where electric's domain ends.
func figure(instead float64) func(v float64, err error) float64 {
	return func(v float64, err error) float64 {
		if err != nil {
			return instead
		}
		return v
	}
}

// chem is the chemistry of the bank as electric knows it. Of other lithium it
// has no figures; the simulation takes it for iron phosphate.
func chem(sys *rig.System) electric.Chemistry {
	for i, word := range electric.Chemistries() {
		if word == sys.Battery.Chemistry && electric.Chemistry(i) != electric.OtherLithium {
			return electric.Chemistry(i)
		}
	}
	return electric.LFP
}

// NewPlant is the rig as it was meant to be: sound contacts, whole fuses,
// settings that fit the battery. Faults are then put into it.
func NewPlant(sys *rig.System) *Plant {
	b, c, m := sys.Battery, sys.Controller, sys.Monitor
	p := &Plant{
		Sys:   sys,
		Parts: make(map[string]*Part, len(sys.Parts)),
		Sky:   Sky{Full: usualSun},
		Controller: Controller{
			SystemV: sys.Volts, AutoV: c.AutoV, LimitA: c.LimitA,
			AbsorbV: c.AbsorbV, FloatV: c.FloatV,
		},
		Battery: Battery{
			Ah: b.Ah, Charge: b.Charge, CellC: b.CellC, TripA: b.TripA, TripS: b.TripS,
			Flag: "none", Cell: "alike",
		},
		Inverter: Inverter{Switch: sys.Inverter.Watts > 0, Farad: sys.Inverter.Farad},
		Monitor: Monitor{
			Source: "volts-only", ShuntSet: m.Shunt, Ah: m.Ah, FullV: m.FullV, TailPct: m.TailPct,
			Efficiency: m.Efficiency, Peukert: m.Peukert, Percent: b.Charge,
		},
	}
	if p.Controller.AbsorbV == 0 {
		p.Controller.AbsorbV = figure(1.18 * sys.Volts)(electric.AbsorbTarget(chem(sys), sys.Volts, 25))
	}
	if p.Controller.FloatV == 0 {
		p.Controller.FloatV = figure(1.13 * sys.Volts)(electric.FloatTarget(chem(sys), sys.Volts, 25))
	}
	switch {
	case m.Shunt != "":
		p.Monitor.Source = "shunt-monitor"
	case b.App:
		p.Monitor.Source = "battery-app"
	}
	p.Battery.Ohm = bankOhm(sys)
	all := make([]Part, len(sys.Parts))
	for i, q := range sys.Parts {
		all[i] = soundPart(sys, q)
		p.Parts[q.ID] = &all[i]
	}
	return p
}

// bankOhm is the resistance of a sound bank, warm or cold as its cells are.
func bankOhm(sys *rig.System) float64 {
	ohm := figure(0.0004 * sys.Volts)(electric.SourceOhmNew(chem(sys), max(sys.Battery.Ah, 1), sys.Volts))
	if sys.Battery.Lithium() {
		ohm *= figure(1)(electric.ColdOhmFactor(max(-20, min(55, sys.Battery.CellC))))
	}
	return ohm
}

// soundPart is a part with nothing wrong.
func soundPart(sys *rig.System, q rig.Part) Part {
	p := Part{Part: q, Lay: q.Lay, TrueMM2: q.MM2}
	full := max(q.FullA, 0.5)
	switch q.Kind {
	case rig.Joint:
		p.FaceOhm = min(lugFace(q), lugVolts/full)
		p.BarrelOhm = min(barrelVolts/figure(10)(electric.WireTableAmps(max(q.MM2, 0.75), 105)), lugVolts/full)
	case rig.Screw:
		p.FaceOhm = min(screwOhm, screwVolts/full)
	case rig.Splice:
		p.FaceOhm = min(spliceOhm, spliceVolts/full)
	case rig.Plug:
		p.FaceOhm = map[string]float64{"socket": socketOhm, "heavy": heavyPlugOhm}[q.Style]
		if p.FaceOhm == 0 {
			p.FaceOhm = smallPlugOhm
		}
	case rig.PVPlug:
		p.FaceOhm = pvPlugOhm
	case rig.Fuse:
		p.FuseA = q.RatedA
		p.ClipOhm = min(boltedOhm, boltedVolts/full)
		if q.Style == "blade-holder" {
			p.ClipOhm = min(bladeClipsOhm, bladeVolts/full)
		}
	case rig.Breaker:
		rated := max(q.RatedA, 1)
		// A sound pole loses half of what the standard lets it.
		p.FaceOhm = figure(studsVolts/rated)(electric.BreakerDropLimit(1, rated)) / 2
	case rig.Isolator, rig.Switch:
		p.FaceOhm = switchOhm
	case rig.Shunt:
		p.FaceOhm = figure(1e-4)(electric.ShuntOhm(slices.Index(electric.Shunts(), sys.Monitor.Shunt)))
	}
	return p
}

// lugFace is the contact of a clean lug at the torque of its thread.
func lugFace(q rig.Part) float64 {
	if q.Style == "post-clamp" {
		return postClampOhm
	}
	thread := slices.Index(electric.Threads(), threadFor(q.MM2))
	return facesOfLug * figure(1e-5)(electric.CleanJointOhm(figure(2)(electric.Torque(thread)), thread))
}

// threadFor is the usual stud for lugs on wire of a size (practice).
func threadFor(mm2 float64) string {
	switch {
	case mm2 < 6:
		return "M5"
	case mm2 < 16:
		return "M6"
	case mm2 < 70:
		return "M8"
	}
	return "M10"
}
