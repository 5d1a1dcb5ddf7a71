package simrig

// Branch is what is wrong with the way to a load, and with the load itself.
type Branch struct {
	FrameOhm float64 // from the way to the frame as its wire is moved; 0: sound
	AtEnd    bool    // the short of this way sits in the appliance
	Moves    bool    // the short of this way goes as its wire is moved
	Times    float64 // its watts that the motor takes; 0: once
	Look     string  // option of appliance_look; "" sound
}

// branch changes what is wrong with the way to a load.
func (p *Plant) branch(load string, change func(b *Branch)) {
	if p.Branch == nil {
		p.Branch = map[string]Branch{}
	}
	b := p.Branch[load]
	change(&b)
	p.Branch[load] = b
}
