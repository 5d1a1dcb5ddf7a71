package simrig

// LoadState is how a load and its way really are, beyond what its parts say.
type LoadState struct {
	Dead    bool    // does nothing, whatever it gets
	Off     bool    // its own switch, thermostat or plug is off, for all to see
	RunMin  float64 // minutes of an hour that it runs, a fridge; 0: as a sound one
	Pulses  bool    // lamps without a driver of their own, which show each pulse
	Frame   bool    // its minus comes home through the frame, by a bolt of FrameOhm
	BoltOhm float64
}

// state changes what is wrong with a load.
func (p *Plant) state(load string, change func(x *LoadState)) {
	if p.Loads == nil {
		p.Loads = map[string]LoadState{}
	}
	x := p.Loads[load]
	change(&x)
	p.Loads[load] = x
}
