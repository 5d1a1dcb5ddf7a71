package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"hotlug/engine/electric"
	"hotlug/engine/graph"
	"hotlug/kb"
	"hotlug/session"
)

func builtInGraph(t testing.TB) *graph.Graph {
	t.Helper()
	g, problems := graph.Load(electric.Table(), graph.Layer{Name: builtIn, FS: kb.Files})
	if !graph.Sound(problems) {
		t.Fatal(problems)
	}
	return g
}

// The pass is a finding that the test of a whole system comes to, and no fault.
func TestPassFindingExists(t *testing.T) {
	f := builtInGraph(t).Findings[passFinding]
	if f == nil || !f.NoFault || f.Prove == nil {
		t.Errorf("there is no finding %s that is no fault and has a proof", passFinding)
	}
}

func TestFleetCount(t *testing.T) {
	g := builtInGraph(t)
	now := time.Date(2026, 11, 25, 12, 0, 0, 0, time.Local)
	day := func(ago int) time.Time { return now.AddDate(0, 0, -ago) }
	// came is a session, so many days ago, with findings as "id status".
	came := func(ago int, rig string, findings ...string) session.Summary {
		s := session.Summary{ID: fmt.Sprintf("s%d", ago), Created: day(ago), Last: day(ago), Rig: rig, Outcome: "found"}
		for _, f := range findings {
			id, status, _ := strings.Cut(f, " ")
			s.Findings = append(s.Findings, session.Concluded{Finding: id, Status: status, At: day(ago)})
		}
		return s
	}
	for _, c := range []struct {
		name     string
		sessions []session.Summary // newest first
		open     string            // rig finding, each with its days
		overdue  string
		causes   string
	}{
		{"nothing", nil, "", "a b", ""},
		{"told", []session.Summary{came(3, "a", "worn-holder likely")}, "a worn-holder 3", "a b", "worn-holder 1/0"},
		{"proven", []session.Summary{came(3, "a", "worn-holder proven")}, "", "a b", "worn-holder 1/1"},
		{"refuted", []session.Summary{came(3, "a", "worn-holder refuted")}, "", "a b", ""},
		{"told, proven later", []session.Summary{came(1, "a", "worn-holder proven"), came(9, "a", "worn-holder likely")}, "", "a b", "worn-holder 2/1"},
		{"proven, told again", []session.Summary{came(1, "a", "worn-holder likely"), came(9, "a", "worn-holder proven")}, "a worn-holder 1", "a b", "worn-holder 2/1"},
		{"told twice is open once", []session.Summary{came(1, "a", "worn-holder likely"), came(9, "a", "worn-holder likely")}, "a worn-holder 1", "a b", "worn-holder 2/0"},
		{"told on one, proven on another", []session.Summary{came(1, "b", "worn-holder proven"), came(9, "a", "worn-holder likely")}, "a worn-holder 9", "a b", "worn-holder 2/1"},
		{"the rig in other letters", []session.Summary{came(1, "A", "worn-holder proven"), came(9, "a", "worn-holder likely")}, "", "a b", "worn-holder 2/1"},
		{"no rig named", []session.Summary{came(1, "", "worn-holder proven"), came(9, "", "worn-holder likely")}, " worn-holder 9", "a b", "worn-holder 2/1"},
		{"handed over is open", []session.Summary{came(2, "a", "fire-or-smoke handed over")}, "a fire-or-smoke 2", "a b", "fire-or-smoke 1/0"},
		{"what stops work first", []session.Summary{came(2, "b", "fire-or-smoke likely"), came(9, "a", "worn-holder likely")}, "b fire-or-smoke 2, a worn-holder 9", "a b", "fire-or-smoke 1/0, worn-holder 1/0"},
		{"no fault is no cause", []session.Summary{came(2, "a", "not-all-seen likely")}, "", "a b", ""},
		{"passed", []session.Summary{came(2, "a", "system-proved proven")}, "", "b", ""},
		{"passed too long ago", []session.Summary{came(400, "a", "system-proved proven")}, "", "b a", ""},
		{"passed, not proven to the end", []session.Summary{came(2, "a", "system-proved likely")}, "", "a b", ""},
		{"a rig without a file", []session.Summary{came(2, "c", "system-proved proven")}, "", "a b", ""},
		{"a finding that is no more", []session.Summary{came(2, "a", "old-id likely")}, "a old-id 2", "a b", "old-id 1/0"},
	} {
		t.Run(c.name, func(t *testing.T) {
			count := newFleetCount(g, now, usualEvery)
			count.rig(rigRow{Name: "a"})
			count.rig(rigRow{Name: "b"})
			count.rig(rigRow{Name: "d", Begun: true})
			for _, s := range c.sessions {
				if err := count.session(s); err != nil {
					t.Fatal(err)
				}
			}
			r := count.report()
			var open, overdue, causes []string
			for _, o := range r.Open {
				open = append(open, fmt.Sprintf("%s %s %d", o.Rig, o.Finding, o.Days))
			}
			for _, x := range r.overdue() {
				overdue = append(overdue, x.Name)
			}
			for _, k := range r.Causes {
				causes = append(causes, fmt.Sprintf("%s %d/%d", k.Finding, k.Count, k.Proven))
			}
			for _, x := range []struct{ what, got, want string }{
				{"open", strings.Join(open, ", "), c.open}, {"overdue", strings.Join(overdue, " "), c.overdue}, {"causes", strings.Join(causes, ", "), c.causes},
			} {
				if x.got != x.want {
					t.Errorf("%s: %q, want %q", x.what, x.got, x.want)
				}
			}
		})
	}
}

// Damaged sessions are counted, the first of them named, and nothing stops.
func TestFleetDamaged(t *testing.T) {
	count := newFleetCount(builtInGraph(t), time.Now(), usualEvery)
	for i := range mostDamaged + 5 {
		if err := count.session(session.Summary{ID: fmt.Sprint(i), Err: errors.New("it is damaged")}); err != nil {
			t.Fatal(err)
		}
	}
	if r := count.report(); r.DamagedCount != mostDamaged+5 || len(r.Damaged) != mostDamaged || r.Sessions != mostDamaged+5 {
		t.Errorf("%d counted, %d named of %d", r.DamagedCount, len(r.Damaged), r.Sessions)
	}
}

// Nothing that somebody typed is worked out by a spreadsheet, and what is written
// is read back as CSV.
func TestCSVIsText(t *testing.T) {
	for in, want := range map[string]string{
		"": "", "hut": "hut", "12 V": "12 V", "=1+1": "'=1+1", "+1": "'+1", "-1": "'-1", "@SUM(A1)": "'@SUM(A1)", " =1": "' =1", "\t=1": "' =1",
		"\r=1": "'\ufffd=1", "a=1": "a=1", "＝1": "'＝1", "%0A": "'%0A", "|cmd": "'|cmd", "\u00a0=1": "'\u00a0=1", "x\n=1": "x =1",
	} {
		if in == "\r=1" {
			want = plainCell(in) // its first sign is hidden; it must not begin a formula
			if strings.HasPrefix(want, "=") {
				t.Errorf("%q becomes %q", in, want)
			}
		}
		if got := plainCell(in); got != want {
			t.Errorf("%q becomes %q, want %q", in, got, want)
		}
	}
	r := fleetReport{
		Rigs:     []fleetRig{{Name: "=a", About: "say \"x\", y\n=1+1", Problem: "-1"}},
		Open:     []openRow{{Rig: "@x", Cause: "+1", Finding: "=f", Status: "likely", Session: "s", Since: "2026-01-02"}},
		Causes:   []causeRow{{Finding: "=f", Cause: "c"}},
		Trainees: []traineeRow{{Name: "-t"}},
		Damaged:  []damagedRow{{ID: "=i", Problem: "p"}},
	}
	for _, table := range fleetTables() {
		var b strings.Builder
		if err := r.csv(&b, table); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(strings.NewReader(b.String())).ReadAll()
		if err != nil || len(rows) != 2 {
			t.Fatalf("%s: %d rows, %v\n%s", table, len(rows), err, b.String())
		}
		for i, cell := range rows[1] {
			if strings.ContainsAny(cell[:min(1, len(cell))], "=+-@|%") {
				t.Errorf("%s: %s is %q", table, rows[0][i], cell)
			}
		}
		if !slices.ContainsFunc(rows[1], func(c string) bool { return strings.HasPrefix(c, "'") }) {
			t.Errorf("%s: nothing is marked as text: %q", table, rows[1])
		}
	}
}

// FuzzFileName: whatever becomes a file's name is one on every system, and stays
// in its folder.
func FuzzFileName(f *testing.F) {
	for _, s := range []string{"hut-51", "Hut 51", "..", "../x", "/etc/passwd", `C:\x`, "con", "COM1", "lpt9", "a.yaml", "\x1b[31m", "ﬀ", "K", "-x", strings.Repeat("a", 41), " a\tb "} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		id, ok := fileName(text)
		if !ok {
			return
		}
		if strings.Trim(id, "abcdefghijklmnopqrstuvwxyz0123456789-") != "" || len(id) > 40 || id == "" || id[0] == '-' || reservedName(id) {
			t.Errorf("%q becomes %q", text, id)
		}
		if again, ok := fileName(id); !ok || again != id {
			t.Errorf("%q becomes %q, and that %q", text, id, again)
		}
	})
}
