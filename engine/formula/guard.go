package formula

import (
	"errors"
	"fmt"
	"strings"
	"unicode"

	"github.com/expr-lang/expr/file"
	"github.com/expr-lang/expr/parser/lexer"
)

// Caps on what is looked at. The parser recurses without limit and a million
// brackets would end the process, so these come before it.
const (
	MaxBytes = 1000 // of a formula's text
	MaxDepth = 50   // of brackets
	maxNodes = 4000 // of a tree with its worked values put in
	maxArgs  = 12
)

// capped checks the caps that need no understanding.
func capped(src string) []Problem {
	if len(src) > MaxBytes {
		return []Problem{{Code: CodeTooLong, To: 1,
			Text: fmt.Sprintf("the formula has %d bytes, and %d is the most", len(src), MaxBytes),
			Hint: "name a part of it as a worked value"}}
	}
	depth := 0
	for i, r := range []rune(src) {
		switch r {
		case '(', '[', '{':
			if depth++; depth > MaxDepth {
				return []Problem{{Code: CodeTooDeep, From: i, To: i + 1,
					Text: fmt.Sprintf("brackets are nested deeper than %d", MaxDepth),
					Hint: "name a part of it as a worked value"}}
			}
		case ')', ']', '}':
			depth--
		}
	}
	if strings.TrimSpace(src) == "" {
		return []Problem{{Code: CodeSyntax, Text: "the formula is empty", Hint: "write a condition or a number"}}
	}
	return nil
}

// operators is the white list of operator and bracket tokens.
var operators = wordSet("+ - * / ^ < <= > >= == != in and or not ? : , ( ) [ ]")

// instead says what to write for a token that is not on the white list.
var instead = map[string]string{
	"!":   "write not",
	"&&":  "write and",
	"||":  "write or",
	"??":  "ask with known(x), and give both answers with ? and :",
	"?.":  "put a space behind the question mark",
	"**":  "write ^ for a power",
	"%":   "percent is a unit here: leave the sign out, or write part(x) for a ratio",
	"=":   "write == for choices; for numbers write near(a, b, by)",
	"|":   "write the call as f(x)",
	"::":  "write the name alone",
	"..":  "for a range write low < x < high",
	".":   "names have no parts here",
	"#":   "a name or a number goes here",
	";":   "one formula has one result; give a part a name as a worked value",
	"{":   "use round brackets",
	"}":   "use round brackets",
	"let": "give the part a name as a worked value",
	"if":  "write condition ? this : that",

	"else":       "write condition ? this : that",
	"matches":    "compare a choice with == or in",
	"contains":   "compare a choice with == or in",
	"startsWith": "compare a choice with == or in",
	"endsWith":   "compare a choice with == or in",
}

// tokens reads src into tokens, without the one for the end, and lists every
// token that the language does not have. A text that can't be read to its end
// gives an error besides the tokens before it.
func tokens(src string) ([]lexer.Token, []Problem, *file.Error) {
	l := lexer.New()
	l.Reset(file.NewSource(src))
	runes := []rune(src)
	var toks []lexer.Token
	var ps []Problem
	seen := 0
	for {
		t, err := l.Next()
		if err != nil {
			var fe *file.Error
			if errors.As(err, &fe) {
				return toks, ps, fe
			}
			return toks, ps, nil
		}
		upTo := t.From
		if t.Kind == lexer.EOF {
			upTo = len(runes)
		}
		if p, ok := comment(runes, seen, upTo); ok {
			ps = append(ps, p)
		}
		if t.Kind == lexer.EOF {
			return toks, ps, nil
		}
		seen = t.To
		toks = append(toks, t)
		if p, ok := refused(t, runes); ok {
			ps = append(ps, p)
		}
	}
}

// comment finds what the parser would silently skip between two tokens.
func comment(runes []rune, from, to int) (Problem, bool) {
	for i := from; i < to && i < len(runes); i++ {
		if !unicode.IsSpace(runes[i]) {
			return Problem{Code: CodeNotAllowed, From: i, To: min(i+2, len(runes)),
				Text: "a formula has no comments", Hint: "put it in the YAML, behind #"}, true
		}
	}
	return Problem{}, false
}

func refused(t lexer.Token, runes []rune) (Problem, bool) {
	p := Problem{Code: CodeNotAllowed, From: t.From, To: t.To}
	switch t.Kind {
	case lexer.Operator, lexer.Bracket:
		if operators[t.Value] {
			return p, false
		}
		p.Text = t.Value + " is not part of the language"
		p.Hint = instead[t.Value]
		return p, true
	case lexer.Number:
		if strings.IndexFunc(t.Value, func(r rune) bool { return !strings.ContainsRune("0123456789.eE+-", r) }) >= 0 {
			p.Text, p.Hint = t.Value+" is not a number as it is written here", "write it in plain digits with a point"
			return p, true
		}
	case lexer.String:
		if t.From < len(runes) && runes[t.From] == '`' {
			p.Text, p.Hint = "a word stands in straight single quotes", "write '"+t.Value+"'"
			return p, true
		}
	case lexer.Bytes:
		p.Text, p.Hint = "a word stands in straight single quotes", "leave the b out"
		return p, true
	case lexer.Identifier:
		if t.Value == "nil" || strings.HasPrefix(t.Value, "$") {
			p.Text = t.Value + " is not part of the language"
			if t.Value == "nil" {
				p.Hint = "whether something is known is asked with known(x)"
			}
			return p, true
		}
	}
	return p, false
}
