package formula

import "hotlug/engine/quantity"

var (
	percentUnit = quantity.MustUnit("%")
	celsiusUnit = quantity.MustUnit("degC")
	kelvinUnit  = quantity.MustUnit("K")
)
