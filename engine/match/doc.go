// Package match finds what people mean by their own words: which symptom a
// complaint describes, which option an answer names, and whether a line holds a
// word of danger.
//
// Three tools share one way of cutting text into words ([Index], [Choices],
// [Phrases]):
//
//   - a line is folded to lower case, cut at whatever is no letter or digit, and
//     every word is cut to its stem, so "melting" and "melted" are one word;
//   - a table of everyday words says which stems mean the same ("leccy" and
//     "power") and which are kin ("hot" and "melted"), the latter counting half;
//   - a word of five letters or more that nobody knows may be one slip of the
//     finger away from one that somebody knows.
//
// An [Index] weighs a word by how few entries use it, as is usual in text
// retrieval (inverse document frequency), and scores an entry by the share of the
// line's weight that it explains and by how well its best single phrase fits.
// Nonsense scores nothing: an entry must explain something that is not common to
// all.
//
// [Phrases] errs on the side of ringing: it only ever brings a question. It finds
// "no smoke" as readily as "smoke", because a line that denies smoke may go on
// to admit a smell of it.
//
// The package is pure, and what it looks at is capped ([MaxText], [MaxWords]).
package match
