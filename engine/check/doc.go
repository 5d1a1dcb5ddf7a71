// Package check looks over knowledge that has loaded for what no single file can
// show, and says it like a compiler: a place, one sentence, a value that shows it,
// and what to do.
//
// [Look] finds everything at once:
//
//   - conditions that are the same whatever is read: they are evaluated over the
//     whole possible range of every reading, on 12, 24 and 48 V (ranges.go,
//     branches.go);
//   - branches that no path takes: every path from every symptom is walked with
//     the ranges that it implies (flow.go, narrow.go), within a bound; what limits
//     leave open is looked for at points (points.go), and what is then still open
//     is a [Note];
//   - limits that the meter can't tell apart, limits in plain volts where the
//     system should scale them (cuts.go), division by nought (divide.go);
//   - what could hurt and is not held back (safety.go);
//   - names used and not asked for, values that may be missing in a sentence,
//     questions asked in vain (check.go, missing.go);
//   - findings that are not finished, texts that are hard to read, what nothing
//     uses (check.go, texts.go, uses.go).
//
// A warning that is right to stand is waived by a comment beside it (waive.go).
// [Paths] lists ways from a symptom with example readings, [Holes] shows values
// that take no branch of a step.
//
// The package is pure. Its own proof is a mutation runner over the shipped
// knowledge:
//
//	go test ./engine/check -run Mutants -v -mutants 0
package check
