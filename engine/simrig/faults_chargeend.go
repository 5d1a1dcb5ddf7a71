package simrig

import (
	"hotlug/engine/electric"
	"hotlug/engine/rig"
)

// chargeEndFaults end a charge before the battery is full.
func chargeEndFaults() []*Fault {
	// ends leaves the battery where such a charge leaves it, the controller in float.
	ends := func(p *Plant, tail float64) {
		p.Battery.Full, p.Harvest.Early = true, true
		p.Battery.TailA = tail * figure(0.02*p.Battery.Ah)(electric.TailLimit(chem(p.Sys), max(1, p.Battery.Ah)))
	}
	sensed := func(s *rig.System) bool { return s.Controller.Sensor && !lithium(s) }
	return []*Fault{
		{
			ID: "absorption-short", Name: "the charger leaves its top volts too early",
			Sites: Anywhere, Lo: 1.8, Hi: 4, Unit: "times the current of a full battery",
			Apply:  func(p *Plant, _ string, severity, _ float64) { ends(p, severity) },
			Seen:   "It is in float by eleven in the morning.",
			Repair: "The time at the top volts and the current that ends it are set by the maker's figures.",
			Shown:  []string{stopsSoon}, Source: "practice",
		},
		{
			ID: "top-volts-low", Name: "the charger's top volts are set too low",
			Sites: Anywhere, Lo: 0.25, Hi: 0.6, Unit: "V per 12 V under the lowest usual",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				low := figure(1.17 * p.Sys.Volts)(electric.AbsorbLow(chem(p.Sys), p.Sys.Volts, 25))
				p.Controller.AbsorbV = low - severity*twelves(p.Sys)
				p.Controller.FloatV = min(p.Controller.FloatV, p.Controller.AbsorbV-0.1*twelves(p.Sys))
				ends(p, 1.5)
			},
			Seen:   "The settings were changed when it was stored.",
			Repair: "The top volts are set by the battery maker's figure.",
			Shown:  []string{stopsSoon}, Source: "practice",
		},
		{
			ID: "charge-lead-loses", Name: "the lead from controller to battery ends the charge too early",
			Sites: when(func(s *rig.System) bool { return !sensed(s) }), Lo: 0.35, Hi: 0.55, Unit: "V per 12 V at a quarter of the rig's charge amps",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				amps, lost := 0.25*p.Sys.ChargeAmps(), severity*twelves(p.Sys)
				for _, id := range []string{"ctl-pos", "ctl-neg"} {
					if x := p.Parts[id]; x != nil {
						x.TrueMM2 = max(1, 0.5*x.MM2)
						x.Metres = max(x.Metres, lost/amps/2*x.TrueMM2/warmCopper)
					}
				}
				p.Battery.TopV = p.Controller.AbsorbV - lost - amps*p.Battery.Ohm
				p.Harvest.Early = true
			},
			Seen:   "The controller sits at the far end of the hut on thin wires.",
			Repair: "It gets a thicker and shorter pair, with clean ends.",
			Shown:  []string{stopsSoon}, Source: "Ohm's law; practice",
		},
		{
			ID: "sensor-reads-warm", Name: "the controller's battery sensor reads too warm",
			Sites: when(sensed), Lo: 12, Hi: 25, Unit: "K",
			Apply: func(p *Plant, _ string, severity, _ float64) {
				p.Controller.SensorOff = severity
				ends(p, 1.5)
			},
			Seen:   "The sensor hangs behind the warm inverter.",
			Repair: "The sensor is fixed to the battery's case.",
			Shown:  []string{stopsSoon}, Source: "practice: more than 5 K beside the true figure",
		},
	}
}
