package shape

import "strings"

// DidYouMean is the one of the words that is most like the given one, "" when
// none is near: at most two letters added, left out, changed or swapped with
// their neighbour, and no more than half of the letters. Case, and - for _, count for
// nothing. Of several equally near, the first by the alphabet, so that the order
// of among does not matter.
func DidYouMean(word string, among []string) string {
	best, least := "", 3
	w := fold(word)
	for _, candidate := range among {
		c := fold(candidate)
		allowed := min(2, max(len(w), len(c))/2)
		if len(w) > len(c)+allowed || len(c) > len(w)+allowed {
			continue
		}
		d := distance(w, c)
		if d > allowed {
			continue
		}
		if d < least || d == least && candidate < best {
			best, least = candidate, d
		}
	}
	return best
}

func fold(word string) []rune {
	return []rune(strings.ReplaceAll(strings.ToLower(word), "-", "_"))
}

// distance is the edit distance with swaps of neighbours (optimal string
// alignment; Boytsov 2011 describes it among others).
func distance(a, b []rune) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}
