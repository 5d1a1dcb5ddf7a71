package simrig

import "hotlug/engine/electric"

// Block is one battery of a bank as it really is, against a sound one of its kind.
type Block struct {
	Ah     float64 // share of its amp-hours that is left
	Times  float64 // its resistance, in times that of a sound one
	Dead   int     // lead cells that are shorted inside
	Low    float64 // V that it stands too low, charged alone and rested
	Behind float64 // per cent of charge by which it lags its mates in a string
	Asleep bool    // its own protection is open
	Off    bool    // its own switch is off, for all to see
	Warm   bool    // warmer than its like
}

// Cells is how the cells of a lithium battery stand to each other.
type Cells struct {
	Apart    float64 // V, the lowest below the rest as things are now
	TopApart float64 // V, the highest above the lowest near the top of a charge
}

// Blocks of a bank, one string after the other, are Series of each string.
func (p *Plant) blocks() []Block {
	b := p.Sys.Battery
	if p.Battery.Blocks == nil {
		p.Battery.Blocks = make([]Block, max(1, b.Series)*max(1, b.Parallel))
		for i := range p.Battery.Blocks {
			p.Battery.Blocks[i] = Block{Ah: 1, Times: 1}
		}
	}
	return p.Battery.Blocks
}

// Lead cells, and by how much a block lags on charge for each per cent of charge
// that it is behind: full ones are at their top while it still fills (practice).
const (
	leadCells = 6 // of a block of 12 V
	leadCellV = 2.1
	lagVolts  = 0.045
	mostLag   = 1.4
)

// line is one string of the bank: what it has by itself against a sound one.
type line struct {
	volts float64 // V that are missing
	times float64 // its resistance
	ah    float64 // share of its amp-hours: that of its worst block
	gone  bool    // asleep or off
}

// lines are the strings of the bank, in their order.
func (p *Plant) lines() []line {
	b := p.Sys.Battery
	series, count := max(1, b.Series), max(1, b.Parallel)
	out := make([]line, count)
	for i := range out {
		out[i] = line{times: 1, ah: 1}
		if p.Battery.Blocks == nil {
			continue
		}
		out[i].times = 0
		for _, x := range p.Battery.Blocks[i*series : (i+1)*series] {
			if count == 1 { // side by side the others hold it up
				out[i].volts += float64(x.Dead) * leadCellV
			}
			out[i].times += x.Times / float64(series)
			out[i].ah = min(out[i].ah, x.Ah*(1-x.Behind/100))
			out[i].gone = out[i].gone || x.Asleep || x.Off
		}
	}
	return out
}

// lag is by how much a block stands below a full one at the top of a charge.
func (x Block) lag() float64 {
	return min(mostLag, lagVolts*x.Behind) + float64(x.Dead)*leadCellV + x.Low
}

// apart is the difference in volts between the highest and the lowest block, by
// what each lacks.
func (p *Plant) apart(lack func(x Block) float64) float64 {
	if len(p.Battery.Blocks) == 0 {
		return 0
	}
	lo, hi := lack(p.Battery.Blocks[0]), lack(p.Battery.Blocks[0])
	for _, x := range p.Battery.Blocks[1:] {
		lo, hi = min(lo, lack(x)), max(hi, lack(x))
	}
	return hi - lo
}

// deadCells is how many lead cells are shorted in all.
func (p *Plant) deadCells() int {
	n := 0
	for _, x := range p.Battery.Blocks {
		n += x.Dead
	}
	return n
}

// holds is the amp-hours that come out of the bank from full to its cut-off.
func (p *Plant) holds() float64 {
	share, lines := 0.0, p.lines()
	for _, l := range lines {
		if !l.gone {
			share += l.ah / float64(len(lines))
		}
	}
	// Cold takes amp-hours away: a hundredth a kelvin of lead, half of that of
	// lithium (battery textbook).
	part := coldLead
	if lithium(p.Sys) {
		part = coldCells
	}
	return p.Battery.Ah * share * max(0.2, min(1.05, 1-part*(25-p.Battery.CellC)))
}

const (
	coldLead  = 0.008
	coldCells = 0.004
)

// filled is the bank after a charge to the very end, a rest, and the little that
// has been used since.
func (p *Plant) filled() {
	b := &p.Battery
	b.Charge, b.Recent = 96, "rested-after-charge"
}

// chillLead is how many times its resistance at 25 °C a lead battery has in the
// cold: a doubling to about -10 °C (battery textbook).
func chillLead(temp float64) float64 {
	return 1 + max(0, 25-temp)*0.028
}

// chill makes the bank as cold as this, with the resistance that it then has.
func (p *Plant) chill(temp float64) {
	b := &p.Battery
	if lithium(p.Sys) {
		was := figure(1)(electric.ColdOhmFactor(max(-20, min(55, b.CellC))))
		b.Ohm *= figure(1)(electric.ColdOhmFactor(max(-20, min(55, temp)))) / was
	} else {
		b.Ohm *= chillLead(temp) / chillLead(b.CellC)
	}
	b.CellC = temp
}
