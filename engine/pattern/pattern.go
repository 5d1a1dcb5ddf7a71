package pattern

import (
	"regexp"
	"sync"
)

// Pattern is a regular expression. Its methods are those of [regexp.Regexp].
type Pattern struct {
	expr    string
	compile func() *regexp.Regexp
}

var (
	mu  sync.Mutex
	all []*Pattern
)

// Of is the pattern of an expression, which panics at its first use if it does
// not parse; [All] is there for a test that lets none such through.
func Of(expr string) *Pattern {
	p := &Pattern{expr, sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(expr) })}
	mu.Lock()
	defer mu.Unlock()
	all = append(all, p)
	return p
}

// All lists the patterns made so far.
func All() []*Pattern {
	mu.Lock()
	defer mu.Unlock()
	return append([]*Pattern(nil), all...)
}

func (p *Pattern) String() string                         { return p.expr }
func (p *Pattern) MatchString(s string) bool              { return p.compile().MatchString(s) }
func (p *Pattern) FindString(s string) string             { return p.compile().FindString(s) }
func (p *Pattern) FindStringIndex(s string) []int         { return p.compile().FindStringIndex(s) }
func (p *Pattern) FindStringSubmatch(s string) []string   { return p.compile().FindStringSubmatch(s) }
func (p *Pattern) FindAllString(s string, n int) []string { return p.compile().FindAllString(s, n) }
func (p *Pattern) FindAllStringIndex(s string, n int) [][]int {
	return p.compile().FindAllStringIndex(s, n)
}
func (p *Pattern) FindAllStringSubmatch(s string, n int) [][]string {
	return p.compile().FindAllStringSubmatch(s, n)
}
func (p *Pattern) FindAllStringSubmatchIndex(s string, n int) [][]int {
	return p.compile().FindAllStringSubmatchIndex(s, n)
}
func (p *Pattern) ReplaceAllString(s, with string) string {
	return p.compile().ReplaceAllString(s, with)
}
func (p *Pattern) ReplaceAllStringFunc(s string, f func(string) string) string {
	return p.compile().ReplaceAllStringFunc(s, f)
}
func (p *Pattern) Split(s string, n int) []string { return p.compile().Split(s, n) }
