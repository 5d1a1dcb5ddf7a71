package simrig

// Findings about loads and nights that no fault of the catalogue stands for.
func init() {
	for id, reason := range map[string]string{
		"converter-at-limit": "the simulated rigs feed their loads from the bank itself: there is no 12 V side behind a converter",
		"stolen-return":      "the simulated rigs have no data leads, aerials or pipes that current could go home by",
	} {
		notSimulated[id] = reason
	}
}
