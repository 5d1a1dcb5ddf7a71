// Package shape reads the files that people write: it turns a YAML file into
// nodes that know their place, compares them with a table of shapes, and reports
// everything that is wrong at once, each thing with its line and a hint.
//
// The way through it:
//
//	root, problems := shape.Parse("kb/sheets/joints.yaml", src)
//	problems = append(problems, shape.Check(root, sheetShape)...)
//	shape.Sort(problems)
//	for _, p := range problems { lines = append(lines, shape.Render(p)) }
//
// The files are YAML with everything left out that surprises: no aliases,
// anchors, merge keys or tags, one document, each key once, no hidden
// characters. What is left reads the same to every person and every program.
//
// The same table that Check uses is written out by JSONSchema, so that an editor
// tells people what Check would tell them.
//
// This is the only package that imports the YAML library, in yaml.go.
package shape
