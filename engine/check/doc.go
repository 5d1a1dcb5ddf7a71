// Package check looks over knowledge that has loaded for what no single file
// can show: steps that nothing leads to, names used and not asked for, findings
// that are not finished, words that the chat needs for itself.
package check
