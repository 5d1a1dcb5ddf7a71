package walk_test

import (
	"strings"
	"testing"

	"hotlug/engine/walk"
)

// A close call says so in one sentence with the numbers, and offers what the
// knowledge names as better.
func TestBetterReading(t *testing.T) {
	for _, c := range []struct {
		name, better string
		say          []string // readings and values, after the better one is wanted
		told         string
		asked        string // what is asked first
	}{
		{"another reading decides instead", `{say: Read more., ask: [more], if: more > 30}`, []string{"more", "40 V"}, "burnt likely", "more"},
		{"another reading decides the other way", `{say: Read more., ask: [more], if: more > 30}`, []string{"more", "20 V"}, "sound likely", "more"},
		{"another reading that can't be had leaves the first", `{say: Read more., ask: [more], if: more > 30}`, []string{"more", "?", "", "go on"}, "burnt close", "more"},
		{"another reading that is close too", `{say: Read more., ask: [more], if: more > 30}`, []string{"more", "29.95 V", "", "go on"}, "sound close", "more"},
		{"the same one once more", `{say: Wait an hour., ask: [volts]}`, []string{"volts", "21 V"}, "burnt likely", "volts"},
		{"the same one, still close", `{say: Wait an hour., ask: [volts]}`, []string{"volts", "19.97 V", "", "go on"}, "sound close", "volts"},
		{"the same one that can't be had stands as it was", `{say: Wait an hour., ask: [volts]}`, []string{"volts", "?", "", "go on"}, "burnt close", "volts"},
		{"by a finer meter", `{say: A finer one., ask: [volts], meter: fine}`, []string{"volts", "20.05 V"}, "burnt likely", "volts"},
	} {
		t.Run(c.name, func(t *testing.T) {
			g := load(t, map[string]string{
				"states.yaml": strings.Replace(smallStates, "  eye: {say", "  fine: {say: A finer meter., class: good}\n  eye: {say", 1),
				"sheets/a.yaml": `sheet: a
steps:
  one:
    ask: [volts]
    then:
      - {if: volts > 20, go: burnt}
      - {go: sound}
    better: ` + c.better + `
findings:` + ends,
			})
			p := begin(t, g).say("volts", "20.05 V").wants(walk.WantCloseCall, "")
			if want := "Volts (20.05 ± 0.14 V) straddles 20 V."; p.p.Close.Say != want {
				t.Fatalf("the close call says %q, want %q", p.p.Close.Say, want)
			}
			if p.p.Close.Better == nil {
				t.Fatal("no better reading is offered")
			}
			p.do(walk.Event{Kind: walk.EvBetter}).wants(walk.WantAnswer, c.asked)
			if p.p.Better == nil {
				t.Error("the prompt does not say that the reading is the better one")
			}
			for i := 0; i < len(c.say); i += 2 {
				if c.say[i] != "" {
					p.say(c.say[i], c.say[i+1])
					continue
				}
				p.wants(walk.WantCloseCall, "")
				if p.p.Close.Better != nil {
					t.Error("the better reading is offered twice")
				}
				p.do(walk.Event{Kind: walk.EvGoOn})
			}
			p.told(c.told)
			if f := p.s.Told()[0]; (f.Status == walk.IsClose) != (len(f.Close) > 0) {
				t.Errorf("told as %s with the close calls %q", f.Status, f.Close)
			}
			if why := differs(g, p.s, again(t, g, walk.Setup{}, p.s.Events())); why != "" {
				t.Errorf("walked again it differs in %s", why)
			}
		})
	}
	t.Run("where none is known, it is refused", func(t *testing.T) {
		begin(t, sheet(t, "steps:\n  one: {ask: [volts], then: [{if: volts > 20, go: burnt}, {go: sound}]}\nfindings:"+ends)).
			say("volts", "20.05 V").refuses(walk.Event{Kind: walk.EvBetter}, "No better reading")
	})
}

// A proof that is too close to call has a better reading too.
func TestBetterReadingOfAProof(t *testing.T) {
	g := sheet(t, `
steps:
  one: {ask: [seen], then: [{if: seen, go: burnt}, {go: sound}]}
findings:
  burnt: {cause: It is burnt., prove: {ask: [volts], if: volts < 20, better: {say: Read more., ask: [more], if: more < 10}}}
  sound: {cause: It is sound.}
`)
	p := begin(t, g).say("seen", "yes").do(walk.Event{Kind: walk.EvDone}).say("volts", "20.05 V").wants(walk.WantCloseCall, "")
	p.do(walk.Event{Kind: walk.EvBetter}).say("more", "5 V").told("burnt proven")
}
