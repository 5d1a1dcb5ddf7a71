package reading

// PlaceOnRig is something a rig has several of: a joint, a fuse, a way. Places
// of one Class that carry the same Like word can be compared.
type PlaceOnRig struct {
	ID    string
	Class string // joint, fuse, block, string, way, module, plug, cell
	Name  string // "the lug on the plus post"
	Like  string // places with the same word are alike
	Facts map[string]string
}
