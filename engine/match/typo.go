package match

// slipLength is how many letters a word needs before a slip is looked for:
// among shorter ones nearly every word is one letter away from another.
const slipLength = 5

// near says whether two words are one slip apart: a letter wrong, missing, too
// many, or two neighbours swapped. The first letters agree, as they nearly always
// do in a slip; that keeps "heat" and "meat" apart at no cost.
func near(a, b string) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	if len(b)-len(a) > 1 || a == b || a == "" || a[0] != b[0] {
		return false
	}
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	if len(a) < len(b) {
		return a[i:] == b[i+1:]
	}
	if a[i+1:] == b[i+1:] {
		return true
	}
	return i+1 < len(a) && a[i] == b[i+1] && a[i+1] == b[i] && a[i+2:] == b[i+2:]
}
