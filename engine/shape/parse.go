package shape

import "fmt"

// Parse reads a file. It gives the root and everything that is wrong with the
// writing of it, in order of place; the root is nil when the file cannot be read
// at all. With problems of severity Error the nodes may be looked at, by Check
// say, but are not the whole file: refused parts are left out. It never panics.
func Parse(file string, src []byte) (*Node, []Problem) {
	if len(src) > MaxFileBytes {
		return nil, []Problem{FileProblem("too-big", file,
			fmt.Sprintf("The file has %d bytes; %d are allowed.", len(src), MaxFileBytes),
			"Make it several files.")}
	}
	s, src := newSource(file, src)
	if !s.checkCharacters() {
		return nil, s.list.problems
	}
	root := s.read(src)
	Sort(s.list.problems)
	return root, s.list.problems
}
