package main

import (
	"encoding/csv"
	"io"
	"strconv"

	"hotlug/cmd/hotlug/term"
)

// fleetTables are the tables of a fleet's report, for `--csv`.
func fleetTables() []string { return []string{"open", "rigs", "causes", "trainees", "damaged"} }

// csv writes one table of the report, with a line of heads.
func (r fleetReport) csv(w io.Writer, table string) error {
	var rows [][]string
	add := func(cells ...string) { rows = append(rows, cells) }
	switch table {
	case "open":
		add("rig", "since", "days", "status", "stop", "finding", "cause", "session", "passed_since")
		for _, o := range r.Open {
			add(o.Rig, o.Since, strconv.Itoa(o.Days), o.Status, yesOrNo(o.Stop), o.Finding, o.Cause, o.Session, yesOrNo(o.Passed))
		}
	case "rigs":
		add("rig", "about", "sessions", "open", "last_session", "passed", "days", "overdue", "problem")
		for _, x := range r.Rigs {
			days := ""
			if x.Passed != "" {
				days = strconv.Itoa(x.Days)
			}
			add(x.Name, x.About, strconv.Itoa(x.Sessions), strconv.Itoa(x.Open), x.Last, x.Passed, days, yesOrNo(x.Overdue), x.Problem)
		}
	case "causes":
		add("finding", "cause", "count", "proven")
		for _, k := range r.Causes {
			add(k.Finding, k.Cause, strconv.Itoa(k.Count), strconv.Itoa(k.Proven))
		}
	case "trainees":
		add("trainee", "drills", "right", "unsafe", "last", "due")
		for _, t := range r.Trainees {
			add(t.Name, strconv.Itoa(t.Drills), strconv.Itoa(t.Right), strconv.Itoa(t.Unsafe), t.Last, strconv.Itoa(t.Due))
		}
	case "damaged":
		add("session", "problem")
		for _, d := range r.Damaged {
			add(d.ID, d.Problem)
		}
	}
	c := csv.NewWriter(w)
	for _, row := range rows {
		for i := range row {
			row[i] = plainCell(row[i])
		}
		if err := c.Write(row); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}

func yesOrNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

// plainCell makes of a text one that a spreadsheet shows and does not work out.
// What begins with one of these signs, or with white space before one, it may take
// for a formula, which can fetch and send things; an apostrophe before it says
// that it is text.
func plainCell(s string) string {
	s = term.SafeLine(s)
	for _, r := range s {
		switch r {
		case ' ', '\u00a0':
			continue
		case '=', '+', '-', '@', '|', '%', '＝', '＋', '－', '＠':
			return "'" + s
		}
		break
	}
	return s
}
