package machine

// Function is one function of a bell-crank machine.
type Function struct {
	Name  string // as the field of BellCranks
	Chain *CrankChain
}

// Functions returns collective, right and forward: what the first, second and third servo of
// such a machine moves.
func (b *BellCranks) Functions() [3]Function {
	return [...]Function{{"collective", &b.Collective}, {"right", &b.Right}, {"forward", &b.Forward}}
}
