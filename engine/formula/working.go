package formula

import "hotlug/engine/quantity"

// Working is a computation shown: the formula, the numbers put in, the result.
type Working struct {
	Label   string        `json:"label"`         // "resistance of the holder"
	Name    string        `json:"name"`          // id of the worked value
	Formula string        `json:"formula"`       // "holder_drop_v / load_a"
	Numbers string        `json:"numbers"`       // "180 mV / 42 A"
	Result  string        `json:"result"`        // "4.3 mΩ", or why there is none
	Law     string        `json:"law,omitempty"` // what the functions in it say: "U = 2·I·l·r"
	Source  string        `json:"source,omitempty"`
	Value   Val           `json:"-"`
	Unit    quantity.Unit `json:"-"`
	Known   bool          `json:"known"`
}

// Reason is one comparison that carried a verdict, in numbers.
type Reason struct {
	Text  string // "volts across the holder (180 mV) is above clip_drop_limit(...) (94 mV)"
	Names []string
	Close bool
}
