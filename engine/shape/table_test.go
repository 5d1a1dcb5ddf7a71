package shape

// stepShape is a small table for the tests: what a sheet of steps may be.
func sheetShape() *Shape {
	ids := OneOrMore(ID()).As("an id or a list of ids", "")
	branch := MapOf(
		May("if", Expression(), "when this branch is taken"),
		May("go", Ref(), "the step or finding it leads to"),
		May("finding", ID(), "the finding it records"),
	).ExactlyOne("go", "finding").As("a branch", "One way on from a step.")
	step := MapOf(
		MustUnless("why", Text(60), "what it separates", "like"),
		May("like", ID(), "another step"),
		May("danger", Bool(), "ask for danger first"),
		May("minutes", Number(0, 600), "how long it takes"),
		May("times", Int(1, 9), ""),
		May("who", Word("helper", "electrician", "maker"), ""),
		May("possible", PairOf(Quantity()), "hard limits"),
		May("label", LooseText(20), ""),
		May("ask", ids, "the readings to ask for"),
		Must("then", ListOf(branch), "first match counts"),
	).As("a step", "Asks for readings, then branches.").Named("step")
	return MapOf(
		Must("format", Int(1, 1), "the format of the file"),
		May("about", Text(0), ""),
		Must("steps", TableOf(step), "the steps of the sheet"),
	).As("a sheet", "Steps about one area.")
}
