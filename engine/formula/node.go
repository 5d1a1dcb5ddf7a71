package formula

type op uint8

const (
	opBad   op = iota
	opConst    // val
	opWord     // a quoted word, only until it meets its choice
	opRef      // slot
	opKnown    // slot
	opValue    // a worked value put in: one kid, text is its name
	opScale    // one kid, times num: a change of unit that no reader sees
	opNeg
	opNot
	opAdd
	opSub
	opMul
	opDiv
	opPow // num is the power
	opLess
	opAtMost
	opMore
	opAtLeast
	opIs   // a choice is one of words, or with negated is none of them
	opSame // two choices are the same, or with negated are not
	opAnd
	opOr
	opCond
	opCall
)

// node is one node of a typed tree. Nodes never change once compiled. A chained
// comparison shares its middle term, so the tree is a graph; size counts it as
// if it were written out, and is capped.
type node struct {
	op      op
	negated bool
	t       Type
	val     Val
	num     float64
	text    string
	slot    int
	words   uint64
	fn      *Func
	tables  [][]int8 // per argument: option of the reading to word of the parameter, -1 for none
	kids    []*node
	size    int

	from, to int // the span in the text
	at       int // where a caret goes: the operator, the name
	atTo     int
}

// each visits n and all below, as if the tree were written out.
func (n *node) each(visit func(*node)) {
	visit(n)
	for _, k := range n.kids {
		k.each(visit)
	}
}

// naked is n without what no reader sees.
func (n *node) naked() *node {
	for n.op == opScale {
		n = n.kids[0]
	}
	return n
}

func (n *node) isNumber() bool { return n.t.Class == ClassNumber || n.t.Class == classBare }

func (n *node) isPoint() bool { return n.t.Class == ClassNumber && n.t.Unit.Point }

func (n *node) isConst() bool { return n.op == opConst }
