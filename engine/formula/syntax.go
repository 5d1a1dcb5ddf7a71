package formula

import (
	"fmt"
	"strings"

	"github.com/expr-lang/expr/file"
	"github.com/expr-lang/expr/parser/lexer"
)

// syntaxProblem puts an error of the borrowed lexer or parser in our words.
func syntaxProblem(e *file.Error, src string, toks []lexer.Token) Problem {
	runes := []rune(src)
	p := Problem{Code: CodeSyntax, From: clamp(e.From, len(runes)), To: clamp(e.To, len(runes))}
	at := string(runes[p.From:p.To])
	switch m := e.Message; {
	case strings.HasPrefix(m, "unrecognized character"):
		p.Text = at + " is not a sign of the language"
		p.Hint = signHint[at]
	case strings.HasPrefix(m, "bad number syntax"):
		from := p.From
		for from > 0 && isWordRune(runes[from-1]) {
			from--
		}
		p.Text = fmt.Sprintf("%s is not a number", string(runes[from:p.To]))
		p.Hint = "leave the unit out: a number takes the unit of its partner"
		p.From = from
	case strings.Contains(m, "literal not terminated"):
		p.Text, p.Hint = "a quoted word has no end", "put a quote behind it"
	case strings.Contains(m, "literal is too large"), strings.Contains(m, "out of range"):
		p.Text = "a number is too large"
		if t, ok := tokenBefore(toks, p.From); ok && t.Kind == lexer.Number {
			p.From, p.To = t.From, t.To
		}
	case strings.Contains(m, "char escape"):
		p.Text, p.Hint = "a backslash has no meaning in a quoted word", "write the option's id as it stands"
	case strings.HasPrefix(m, "unexpected token EOF"), strings.HasPrefix(m, "unexpected end"):
		p.From, p.To = len(runes), len(runes)
		p.Text, p.Hint = "the formula ends too early", endHint(toks)
	case strings.HasPrefix(m, "unexpected token"):
		p.Text = at + " does not fit here"
		p.Hint = tokenHint(at, p.From, toks)
	default:
		p.Text = "this can't be read"
	}
	return p
}

var signHint = map[string]string{
	"≥": "write >=", "≤": "write <=", "≠": "write !=", "×": "write *", "·": "write *", "÷": "write /", "−": "write -",
	"²": "write ^ 2", "³": "write ^ 3", "±": "write near(a, b, by)",
	"“": "use straight quotes", "”": "use straight quotes", "‘": "use straight quotes", "’": "use straight quotes",
	"°": "write degC(25)", "Ω": "leave the unit out", "\\": "write /",
}

func endHint(toks []lexer.Token) string {
	open := 0
	for _, t := range toks {
		if t.Kind != lexer.Bracket {
			continue
		}
		if strings.Contains("([", t.Value) {
			open++
		} else {
			open--
		}
	}
	if open > 0 {
		return "a bracket is not closed"
	}
	if n := len(toks); n > 0 {
		return "something must follow " + toks[n-1].Value
	}
	return ""
}

func tokenHint(at string, from int, toks []lexer.Token) string {
	before, ok := tokenBefore(toks, from)
	switch {
	case at == ")" || at == "]":
		return "there is a bracket too many, or a value is missing before it"
	case at == "," && ok && before.Kind == lexer.Number:
		return "a decimal has a point, not a comma"
	case ok && before.Value == "not":
		return "write not in front of the whole condition"
	case ok && (before.Kind == lexer.Number || before.Kind == lexer.Identifier):
		return "an operator is missing behind " + before.Value
	}
	return ""
}

func tokenBefore(toks []lexer.Token, from int) (lexer.Token, bool) {
	for i := len(toks) - 1; i >= 0; i-- {
		if toks[i].From < from {
			return toks[i], true
		}
	}
	return lexer.Token{}, false
}

func isWordRune(r rune) bool {
	return r == '.' || r == '_' || r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z'
}

func clamp(i, n int) int { return max(0, min(i, n)) }
