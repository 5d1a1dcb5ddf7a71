package walk

// board says which take stands for each reading at a place. It is never written
// to: with and without give a new one, so that a state and the visits in its
// trail share theirs. A walk asks some ten to forty readings, which are found
// sooner in a row than in a map.
type board []standing

type standing struct {
	key  Key
	take int // index into the takes of the state
}

func (b board) get(k Key) (take int, ok bool) {
	for i := range b {
		if b[i].key == k {
			return b[i].take, true
		}
	}
	return 0, false
}

func (b board) has(k Key) bool {
	_, ok := b.get(k)
	return ok
}

// with is the board on which take stands for k.
func (b board) with(k Key, take int) board {
	return append(b.without(k), standing{k, take})
}

// without is the board on which nothing stands for k, with room for one more.
func (b board) without(k Key) board {
	out := make(board, 0, len(b)+1)
	for _, s := range b {
		if s.key != k {
			out = append(out, s)
		}
	}
	return out
}
