package transcripts

import (
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"hotlug/session/ticket"
)

// second is what somebody makes of a ticket who was not there and has only its
// plain text.
type second struct {
	verdict string
	under   map[string][]string // lines by the heading that they stand under
}

func readBySecond(text string) second {
	r := second{under: map[string][]string{}}
	lines := strings.Split(text, "\n")
	heading := ""
	for i, l := range lines {
		name, ends := strings.CutSuffix(l, ":")
		switch {
		case l == "":
			heading = ""
			if i == 1 {
				r.verdict = lines[2]
			}
		case heading == "" && (ends || l == strings.ToUpper(l)):
			heading = strings.ToLower(name)
		default:
			r.under[heading] = append(r.under[heading], strings.TrimSpace(l))
		}
	}
	return r
}

// says gives what stands behind a name below a heading.
func (r second) says(heading, name string) string {
	for _, l := range r.under[heading] {
		if s, ok := strings.CutPrefix(l, "- "+name+": "); ok {
			return s
		}
	}
	return ""
}

// noReason is a thing that is said not to be known, without why.
var noReason = regexp.MustCompile(`(?i)^(- )?(not known|none|unknown)[.;]?$`)

// numberUnit is a number as a reading shows it: with its unit, or a share.
var numberUnit = regexp.MustCompile(`\d (mV|V|mA|A|Ω|mΩ|kΩ|MΩ|W|kW|Ah|Wh|kWh|°C|°F|K|%|mm²|mm|cm|m|Hz|h|min|s|d|F|mF|kcmil|AWG|in|ft|lbf|Nm|l|rpm)([ ,;)]|$)|\d+ ?%|\d °|^\d+(\.\d+)?$`)

// Whoever has only the text of a ticket can name the cause and how sure it is, how
// it was made safe, what is asked of them and of whom, the system, the readings
// with units, the proof, and the knowledge; or is told why not.
func TestSecondReader(t *testing.T) {
	g := knowledge(t)
	n := 0
	for _, s := range stories(t) {
		n++
		t.Run(strings.TrimSuffix(s.file, ".txtar"), func(t *testing.T) {
			_, _, _, kept := walked(t, s, goldenWidth)
			x, _, _ := ticket.Retell(g, kept, ticket.About{Session: "1nb5w2q-7tm", Program: "test", Rig: s.rig,
				Created: time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC)})
			text := written(t, inText, x)
			r := readBySecond(text)
			if !slices.Contains([]string{"STOP", "PROVEN", "LIKELY", "TOO CLOSE TO CALL", "POSSIBLE", "HANDED OVER", "NOT SETTLED", "NOT FINISHED", "PASSED", "NOT PASSED"}, r.verdict) {
				t.Errorf("the verdict is %q", r.verdict)
			}
			for _, h := range []string{"how sure", "made safe", "asked of you", "who may do it", "complaint", "findings", "system", "readings in order", "how it went", "not known", "excluded", "still possible"} {
				if len(r.under[h]) == 0 {
					t.Errorf("nothing is said of %s", h)
				}
				for _, l := range r.under[h] {
					if noReason.MatchString(l) {
						t.Errorf("%s: %q gives no reason", h, l)
					}
				}
			}
			for _, name := range []string{"Complaint", "In their words", "Outcome", "Rig", "Begun", "Last answer"} {
				if r.says("complaint", name) == "" {
					t.Errorf("the %s is not told", strings.ToLower(name))
				}
			}
			for _, f := range x.Findings {
				if f.Status == "likely" || f.Status == "proven" || f.Status == "close" {
					if !strings.Contains(text, f.Cause) || f.Proof == "" || !strings.Contains(text, "Proof: "+f.Proof) {
						t.Errorf("%s: its cause or its proof is not told", f.ID)
					}
					for _, l := range f.Fix {
						if !regexp.MustCompile(regexp.QuoteMeta(l.Say) + ` \((helper|licensed electrician|maker or repairer)\)`).MatchString(text) {
							t.Errorf("%s: it is not said who does: %s", f.ID, l.Say)
						}
					}
				}
			}
			for _, k := range x.Readings {
				if k.Number != nil && !numberUnit.MatchString(k.Value) {
					t.Errorf("%s reads %q: no unit", k.Reading, k.Value)
				}
				if !strings.Contains(text, k.Name+": "+k.Value) {
					t.Errorf("%s is not told", k.Reading)
				}
			}
			if !regexp.MustCompile(`Knowledge .+, hash [0-9a-f]{16}\.`).MatchString(text) {
				t.Error("the knowledge is not named")
			}
		})
	}
	if n < 20 {
		t.Errorf("%d sessions were read, 20 are wanted", n)
	}
}
