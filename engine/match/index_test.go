package match_test

import (
	"strings"
	"testing"

	"hotlug/engine/match"
)

// few are the complaints that the first knowledge covers.
var few = pick("no-charge", "spark-on-connecting", "percentage-wrong", "never-reads-full", "volts-percent-disagree", "hot-joint")

func pick(ids ...string) []match.Entry {
	var out []match.Entry
	for _, id := range ids {
		for _, s := range symptoms {
			if s.ID == id {
				out = append(out, s)
			}
		}
	}
	return out
}

// complaints are none of the knowledge's own sayings.
var complaints = []struct{ words, want string }{
	{"my fuse thing is melting", "hot-joint"},
	{"the fuse holder gets really hot when the heater is on", "hot-joint"},
	{"fuseholder plastic has gone brown", "hot-joint"},
	{"terminal on the battery is too warm to touch", "hot-joint"},
	{"one of the lugs overheats", "hot-joint"},
	{"the wire is roasting", "hot-joint"},
	{"cable lug blackened and hot", "hot-joint"},
	{"main fuse keeps cooking its holder", "hot-joint"},
	{"holdr for the big fuse is meltng", "hot-joint"},
	{"bolt on the bus bar burns my hand", "hot-joint"},
	{"battery isn't charging", "no-charge"},
	{"no charge from the solar", "no-charge"},
	{"my solar panels aren't charging the leisure battery", "no-charge"},
	{"solar doing nothing, 0 amps in full sun", "no-charge"},
	{"leccy not going in to the batteries", "no-charge"},
	{"not charging at all", "no-charge"},
	{"panels stopped charging the batt", "no-charge"},
	{"battery wont charge", "no-charge"},
	{"the sun is shining and nothing goes into the battery", "no-charge"},
	{"battry not chargng", "no-charge"},
	{"zero current from the panels", "no-charge"},
	{"sparks when I connect the battery", "spark-on-connecting"},
	{"big spark hooking up the inverter", "spark-on-connecting"},
	{"I get a flash when I put the cable on the battery post", "spark-on-connecting"},
	{"it arcs when i plug it in", "spark-on-connecting"},
	{"bang and a blue spark connecting the positive lead", "spark-on-connecting"},
	{"loud crack when attaching the lead", "spark-on-connecting"},
	{"sparking at the terminal as I bolt on the cable", "spark-on-connecting"},
	{"sprak when conecting", "spark-on-connecting"},
	{"battery percentage is wrong", "percentage-wrong"},
	{"SOC is all over the place", "percentage-wrong"},
	{"the gauge says 60% then suddenly 20%", "percentage-wrong"},
	{"state of charge jumps around", "percentage-wrong"},
	{"monitor stuck at 100 percent", "percentage-wrong"},
	{"the per cent reading is rubbish", "percentage-wrong"},
	{"percent drifts", "percentage-wrong"},
	{"the monitor never gets to 100%", "never-reads-full"},
	{"gauge won't reach full", "never-reads-full"},
	{"it never shows full", "never-reads-full"},
	{"display does not get up to a hundred percent", "never-reads-full"},
	{"stops at 97% and never full", "never-reads-full"},
	{"voltage and percentage don't agree", "volts-percent-disagree"},
	{"13.3 volts but the monitor says 40 percent", "volts-percent-disagree"},
	{"volts look fine but percent is low", "volts-percent-disagree"},
	{"12.1V yet it reads 95%", "volts-percent-disagree"},
	{"which is right, the voltage or the SOC", "volts-percent-disagree"},
}

func TestFindAmongFew(t *testing.T) {
	x := match.New(few)
	for _, c := range complaints {
		t.Run(c.words, func(t *testing.T) {
			hits := x.Find(c.words)
			if len(hits) == 0 || hits[0].ID != c.want {
				t.Errorf("got %v, want %s first", hits, c.want)
			}
		})
	}
}

// Among forty, what is meant is at least among the three that are offered.
func TestFindAmongForty(t *testing.T) {
	x := match.New(symptoms)
	first := 0
	for _, c := range complaints {
		hits := x.Find(c.words)
		at := -1
		for i, h := range hits {
			if h.ID == c.want {
				at = i
			}
		}
		if at == 0 {
			first++
		}
		if at < 0 || at > 2 {
			t.Errorf("%q: %s at place %d of %v", c.words, c.want, at, hits[:min(5, len(hits))])
		}
	}
	t.Logf("%d of %d first", first, len(complaints))
	if first < len(complaints)*4/5 {
		t.Errorf("only %d of %d are found first", first, len(complaints))
	}
}

func TestFindOwnSayings(t *testing.T) {
	x := match.New(symptoms)
	for _, s := range symptoms {
		for _, says := range append(s.Says, s.Label) {
			hits := x.Find(says)
			if len(hits) == 0 || hits[0].ID != s.ID {
				t.Errorf("%q: got %v, want %s", says, hits[:min(3, len(hits))], s.ID)
			}
		}
	}
}

func TestFindNothingForNonsense(t *testing.T) {
	for name, x := range map[string]*match.Index{"few": match.New(few), "forty": match.New(symptoms)} {
		for _, words := range []string{
			"", "   ", "?", "asdf qwer zxcv", "hello there", "how are you", "what time is it", "12.6", "12.6 14.4 3",
			"purple elephants dance tango", "book me a table for two", "lorem ipsum dolor sit amet", "the quick brownie baker of paris",
			"\x00\x01\x02", "ééé", "我的电池", "please sing me a song about my grandmother's bicycle", "yes", "no", "why",
			strings.Repeat("x", 5000), "I would like to buy tickets to the opera tomorrow",
		} {
			if hits := x.Find(words); len(hits) != 0 {
				t.Errorf("%s: %.40q finds %v", name, words, hits)
			}
		}
	}
}

func TestFindIsStable(t *testing.T) {
	twins := []match.Entry{{ID: "b", Label: "Fuse hot."}, {ID: "a", Label: "Fuse hot."}, {ID: "c", Label: "Lamp dim."}}
	for range 50 {
		hits := match.New(twins).Find("hot fuse")
		if len(hits) != 2 || hits[0].ID != "b" || hits[1].ID != "a" || hits[0].Score != hits[1].Score {
			t.Fatalf("got %v, want b before a with equal scores", hits)
		}
	}
}

func TestFindWithFurtherSynonyms(t *testing.T) {
	entries := []match.Entry{{ID: "pump", Label: "The water pump is weak."}, {ID: "lamp", Label: "A lamp is dim."}}
	if hits := match.New(entries).Find("the gizmo"); len(hits) != 0 {
		t.Fatalf("an unknown word finds %v", hits)
	}
	hits := match.New(entries, []string{"pump", "gizmo"}).Find("the gizmo")
	if len(hits) != 1 || hits[0].ID != "pump" {
		t.Errorf("got %v, want the pump", hits)
	}
}

func TestFindLongText(t *testing.T) {
	text := "my fuse holder is melting " + strings.Repeat("and so on and on ", 100000)
	hits := match.New(few).Find(text)
	if len(hits) == 0 || hits[0].ID != "hot-joint" {
		t.Errorf("got %v, want hot-joint from the start of a long text", hits)
	}
}

func FuzzFind(f *testing.F) {
	x := match.New(few)
	for _, c := range complaints {
		f.Add(c.words)
	}
	f.Add("\xff\xfe''%%°°0v100")
	f.Fuzz(func(t *testing.T, words string) {
		hits := x.Find(words)
		for i, h := range hits {
			if !(h.Score > 0) || i > 0 && h.Score > hits[i-1].Score {
				t.Errorf("%q: scores out of order: %v", words, hits)
			}
		}
	})
}

func BenchmarkFind(b *testing.B) {
	x := match.New(symptoms)
	b.ReportAllocs()
	for b.Loop() {
		x.Find("holdr for the big fuse by the battery is meltng when the heater runs")
	}
}

func BenchmarkNew(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		match.New(symptoms)
	}
}
