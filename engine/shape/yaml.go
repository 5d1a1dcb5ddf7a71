package shape

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	yaml "gopkg.in/yaml.v3" // the only import of it: its continuation reads the same
)

// decode reads the first document. It gives io.EOF for a file without one, and
// the line of a second document, 0 if there is none. The library's own panics,
// should it have any left, are errors here.
func decode(src []byte) (doc *yaml.Node, second int, err error) {
	defer func() {
		if r := recover(); r != nil {
			doc, second, err = nil, 0, fmt.Errorf("yaml: %v", r)
		}
	}()
	decoder := yaml.NewDecoder(bytes.NewReader(src))
	doc = &yaml.Node{}
	if err := decoder.Decode(doc); err != nil {
		return nil, 0, err
	}
	var more yaml.Node
	switch err := decoder.Decode(&more); {
	case errors.Is(err, io.EOF):
		return doc, 0, nil
	case err != nil:
		return nil, 0, err
	}
	return doc, max(more.Line, 1), nil
}

// decodeFault is what the library has against this, "" when it reads it.
func decodeFault(src []byte) string {
	if _, _, err := decode(src); err != nil && !errors.Is(err, io.EOF) {
		return err.Error()
	}
	return ""
}

// read builds the nodes of a file, nil when there is nothing to go on with.
func (s *source) read(src []byte) *Node {
	doc, second, err := decode(src)
	if errors.Is(err, io.EOF) {
		s.empty()
		return nil
	}
	if err != nil {
		s.syntaxError(src, err.Error())
		return nil
	}
	if second > 0 {
		s.list.add(s.problem("second-document", second, 1, 3,
			"A second document begins here; nothing would read it.",
			"Take out the --- or make it a file of its own."))
	}
	if len(doc.Content) == 0 {
		s.empty()
		return nil
	}
	b := &builder{source: s}
	root := b.node(doc.Content[0], 1)
	if root.kind == Null && !root.refused {
		s.empty()
		return nil
	}
	return root
}

func (s *source) empty() {
	s.list.add(FileProblem("empty-file", s.name, "The file holds nothing.", "Begin it with the line: format: 1"))
}

// builder turns the library's nodes into ours and reports what we leave out of
// YAML.
type builder struct {
	*source
	nodes int
	last  struct{ line, col, off int } // where offset has been
}

// offset is a column in bytes. It goes on from where it was on the same line:
// one line may hold a whole file.
func (b *builder) offset(line, col int) int {
	if b.last.line != line || b.last.col > col {
		b.last.line, b.last.col, b.last.off = line, 1, 0
	}
	text := b.line(line)
	for ; b.last.col < col && b.last.off < len(text); b.last.col++ {
		_, size := utf8.DecodeRuneInString(text[b.last.off:])
		b.last.off += size
	}
	return b.last.off
}

var styleOf = map[yaml.Style]style{
	yaml.SingleQuotedStyle: single,
	yaml.DoubleQuotedStyle: double,
	yaml.LiteralStyle:      literal,
	yaml.FoldedStyle:       folded,
}

var senseOf = map[string]sense{
	"!!bool":  isBool,
	"!!int":   isNumber,
	"!!float": isNumber,
}

// refuse reports a node and keeps Check from saying more about it.
func (b *builder) refuse(n *Node, code, text, hint string) *Node {
	n.refused = true
	b.list.add(b.problem(code, n.line, n.col, n.width, text, hint))
	return n
}

// node builds one node; depth is 1 for the root.
func (b *builder) node(y *yaml.Node, depth int) *Node {
	b.nodes++
	n := &Node{src: b.source}
	n.line, n.col = b.clamp(y.Line, y.Column)
	n.off = b.offset(n.line, n.col)
	tail := n.tail()
	n.width = max(utf8.RuneCountInString(word(tail)), 1)
	switch {
	case b.nodes == MaxNodes:
		return b.refuse(n, "too-many-nodes", fmt.Sprintf("The file holds more than %d things.", MaxNodes),
			"Make it several files.")
	case b.nodes > MaxNodes:
		n.refused = true
		return n
	case depth > MaxDepth:
		return b.refuse(n, "too-deep", fmt.Sprintf("This is nested more than %d deep.", MaxDepth),
			"Look for a missing bracket or a slipped indentation.")
	case y.Kind == yaml.AliasNode:
		return b.refuse(n, "alias", shown(word(tail))+" is an alias, which these files do without.",
			"Write out what it stands for; a text that begins with * goes in quotes.")
	case y.Anchor != "":
		return b.refuse(n, "anchor", shown(word(tail))+" is an anchor, which these files do without.",
			"Take it out; a text that begins with & goes in quotes.")
	case y.Style&yaml.TaggedStyle != 0, strings.HasPrefix(tail, "!"):
		return b.refuse(n, "tag", shown(word(tail))+" is taken for a tag, and what it says would vanish.",
			"In a condition write not instead of !; a text that begins with ! goes in quotes.")
	}
	switch y.Kind {
	case yaml.MappingNode:
		n.kind = Map
		b.pairs(n, y, depth)
	case yaml.SequenceNode:
		n.kind = List
		for _, c := range y.Content {
			n.items = append(n.items, b.node(c, depth+1))
		}
	default:
		return b.scalar(n, y)
	}
	n.width = max(n.measure(), 1)
	return n
}

func (b *builder) scalar(n *Node, y *yaml.Node) *Node {
	n.kind, n.text = Scalar, y.Value
	n.style = styleOf[y.Style&^yaml.FlowStyle]
	if n.style == plain {
		n.sense = senseOf[y.Tag]
		if y.Tag == "!!null" {
			n.kind = Null
		}
	}
	if n.style == literal || n.style == folded {
		n.text = strings.TrimRight(n.text, "\n")
	}
	n.width = max(n.measure(), 1)
	if r, found := firstHidden(n.text); found {
		return b.refuse(n, "control-character", hiddenText(r), hiddenHint)
	}
	if utf8.RuneCountInString(n.text) > MaxScalarRunes {
		return b.refuse(n, "too-long", fmt.Sprintf("This text is longer than %d characters.", MaxScalarRunes),
			"Shorten it, or look for a quote that is not closed.")
	}
	b.cutByHash(n)
	if n.kind == Null {
		n.text = ""
	}
	return n
}

// cutByHash reports a plain text that ends at a # which was meant to be part of
// it. A comment has a space after its #, so "lug #2" is not one.
func (b *builder) cutByHash(n *Node) {
	if n.style != plain || !n.inLine() {
		return
	}
	rest := strings.TrimLeft(n.tail()[len(n.text):], " \t")
	if len(rest) < 2 || rest[0] != '#' || strings.ContainsAny(rest[1:2], " \t#-=") {
		return
	}
	col := utf8.RuneCountInString(b.line(n.line)) - utf8.RuneCountInString(rest) + 1
	b.list.add(b.problem("cut-by-hash", n.line, col, 1,
		"The text ends at this #; what follows is taken for a comment.",
		"Put the text in quotes; or, if it is a comment, put a space after the #."))
}

// pairs builds the fields of a map. A key that comes again is reported, and the
// first one counts.
func (b *builder) pairs(n *Node, y *yaml.Node, depth int) {
	seen := make(map[string]*Node, len(y.Content)/2)
	for i := 0; i+1 < len(y.Content); i += 2 {
		k := y.Content[i]
		key := b.key(k, depth+1)
		if key.refused {
			n.lost = true
			continue
		}
		value := b.node(y.Content[i+1], depth+1)
		// The library puts a missing value anywhere behind the colon; people look
		// for it at the key.
		if value.kind == Null && !value.refused && y.Content[i+1].Value == "" {
			value.line, value.col, value.off, value.width = key.line, key.col, key.off, key.width
		}
		if first := seen[key.text]; first != nil {
			p := b.problem("duplicate-key", key.line, key.col, key.width,
				shown(key.text)+" stands here a second time.", "Take one of the two out, or rename it.")
			b.list.add(p.With(NoteAt(first, "the first one is here")))
			continue
		}
		seen[key.text] = key
		n.pairs = append(n.pairs, Pair{Key: key, Value: value})
	}
}

// key builds the key of a field: a word, or it is refused.
func (b *builder) key(y *yaml.Node, depth int) *Node {
	key := b.node(y, depth)
	switch {
	case key.refused:
		return key
	case y.Tag == "!!merge":
		return b.refuse(key, "merge-key", "Merge keys are left out of these files.", "Write the fields out.")
	case key.kind != Scalar || key.text == "":
		return b.refuse(key, "bad-key", "A key must be a word.", "A text that begins with a sign goes in quotes.")
	case key.sense != isText:
		return b.refuse(key, "bad-key", shown(key.text)+" is taken for "+key.sense.String()+", not for a word.",
			"Put it in quotes.")
	}
	return key
}
