package main

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"hotlug/engine/graph"
	"hotlug/engine/shape"
	"hotlug/engine/walk"
)

func kbCoverCommand(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "cover [FOLDER]",
		Short: "List what no transcript and no case walks",
		Long: `List steps, branches, findings and cautions that no transcript and no case walks,
each with its place, and what part is walked. FOLDER is where the transcripts
are, with cases in FOLDER/cases; without it, the transcripts folder of the source.

A branch counts as walked when its step led where the branch leads; branches of
one step that lead to the same place count as one.

` + exitHelp,
		Example: "  hotlug kb cover\n  hotlug kb cover ./transcripts",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 1 {
				return usagef("hotlug kb cover takes one folder; %s is too much", quote(args[1]))
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			g, err := a.knowledge()
			if err != nil {
				return err
			}
			dir := "transcripts"
			if len(args) == 1 {
				dir = args[0]
			}
			if st, err := os.Stat(dir); err != nil || !st.IsDir() {
				return badInputf("there is no folder %s; run this in the source's folder, or name the folder of the transcripts", quote(dir))
			}
			c := newCover(g)
			if err := c.folder(dir); err != nil {
				return err
			}
			c.print(a)
			return nil
		},
	}
}

// item is one thing that can be walked.
type item struct {
	key  string
	text string
	at   shape.Place
}

// cover counts what walks have come by.
type cover struct {
	g      *graph.Graph
	kinds  []string
	items  map[string][]item // by kind
	walked map[string]bool   // by kind and key
	walks  int
}

func newCover(g *graph.Graph) *cover {
	c := &cover{g: g, kinds: []string{"step", "branch", "finding", "caution"}, items: map[string][]item{}, walked: map[string]bool{}}
	seen := map[string]bool{}
	add := func(kind, key, text string, at shape.Place) {
		if !seen[kind+" "+key] {
			seen[kind+" "+key] = true
			c.items[kind] = append(c.items[kind], item{key, text, at})
		}
	}
	for _, id := range g.StepOrder {
		s := g.Steps[id]
		add("step", id, id, s.At)
		for _, b := range s.Then {
			add("branch", id+" > "+b.To.String(), id+" > "+b.To.String(), b.At)
		}
		if s.Unknown != nil {
			add("branch", id+" > "+s.Unknown.String(), id+" > "+s.Unknown.String()+" (not known)", s.At)
		}
		for _, b := range s.Also {
			add("branch", id+" also "+b.Finding, id+" also "+b.Finding, b.At)
		}
	}
	for _, id := range g.FindingOrder {
		add("finding", id, id, g.Findings[id].At)
	}
	for _, id := range g.CautionOrder {
		add("caution", id, id, g.Cautions[id].At)
	}
	return c
}

// mostTranscript is more than any transcript has.
const mostTranscript = 1 << 20

// folder walks all transcripts and cases of a folder.
func (c *cover) folder(dir string) error {
	for _, part := range []struct {
		pattern string
		walk    func(path string, src []byte) error
	}{{"cases/*.yaml", c.cases}, {"*.txtar", c.transcript}} {
		files, err := fs.Glob(os.DirFS(dir), part.pattern)
		if err != nil {
			return badInputf("the folder %s can't be read: %v", quote(dir), err)
		}
		for _, f := range files {
			path := filepath.Join(dir, filepath.FromSlash(f))
			src, err := readCapped(path, mostTranscript)
			if err != nil {
				return err
			}
			if err := part.walk(path, src); err != nil {
				return err
			}
		}
	}
	if c.walks == 0 {
		return badInputf("the folder %s holds no *.txtar and no cases/*.yaml", quote(dir))
	}
	return nil
}

// state marks what a walk came by. It is folded again from its events, since
// prompts are not kept.
func (c *cover) state(setup walk.Setup, end *walk.State) {
	c.walks++
	s := walk.Start(c.g, setup)
	for _, e := range end.Events() {
		var p walk.Prompt
		s, p = walk.Step(c.g, s, e)
		for _, x := range p.Cautions {
			c.walked["caution "+x.ID] = true
		}
		if p.Finding != nil {
			for _, x := range p.Finding.Cautions {
				c.walked["caution "+x.ID] = true
			}
		}
	}
	for _, v := range s.Trail(c.g) {
		c.walked["step "+v.Step] = true
		c.walked["branch "+v.Step+" > "+v.Took] = true
		for _, a := range c.g.Steps[v.Step].Also {
			for _, t := range s.Told() {
				if t.Second && t.Finding.ID == a.Finding {
					c.walked["branch "+v.Step+" also "+a.Finding] = true
				}
			}
		}
	}
	for _, t := range s.Told() {
		c.walked["finding "+t.Finding.ID] = true
	}
}

func (c *cover) print(a *app) {
	var total, done int
	summary := ""
	for _, kind := range c.kinds {
		n := 0
		for _, i := range c.items[kind] {
			if c.walked[kind+" "+i.key] {
				n++
				continue
			}
			fmt.Fprintf(a.out, "%s:%d: never walked: %s %s\n", i.at.File, i.at.Line, kind, i.text)
		}
		total, done = total+len(c.items[kind]), done+n
		summary += fmt.Sprintf("%d of %s, ", n, plural2(len(c.items[kind]), kind))
	}
	fmt.Fprintf(a.out, "%s: %s%.1f %% in all\n", plural(c.walks, "walk"), summary, 100*float64(done)/float64(max(total, 1)))
}

// plural2 is plural, for words that end in ch too.
func plural2(n int, what string) string {
	if n != 1 && what == "branch" {
		return fmt.Sprintf("%d branches", n)
	}
	return plural(n, what)
}
