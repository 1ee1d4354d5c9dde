// Package plain writes results as JSON that a notebook can plot: every quantity is a number,
// and its unit stands in the name of its key.
//
//	data, err := plain.Marshal("bench sheet", s)   // s is a *sheet.Sheet, or any other result
//
// In pandas, json_normalize(json.load(f)["modes"], "rows") is then a table with the columns
// stick_percent, gauge_deg and so on. The other way, a machine file, is text with units: see
// package pitch/machine. examples/JSON.md lists the keys of all results.
//
// # Numbers
//
// The key of a quantity, or of lists of one, ends in the unit, always the same one:
//
//	Angle         _deg
//	AngularSpeed  _rpm
//	Length        _mm
//	Velocity      _m_per_s
//	Mass          _g
//	Inertia       _g_cm2
//	Time          _s
//	PulseWidth    _us
//	Force         _N
//	Torque        _Nm
//	Stiffness     _N_per_mm
//	Voltage       _V
//	Current       _A
//	Resistance    _mOhm
//	Power         _W
//	Ratio         _percent
//
// A number is within one unit in the last place of the quantity in that unit. A key without
// such an ending holds a plain number, a word, a list or an object. NaN and infinities are no
// numbers: their key is absent, and in a list null stands in their place, so that lists of one
// length stay so. A finite quantity that is too large in its unit is a [*Error].
//
// # Keys
//
// The stem of a key is the name in the field's json tag, or else the field's own name in small
// letters with underscores. Keys stand in the order of the struct's fields, those of a map in
// the order of their text. Fields of embedded structs stand among those of the struct around
// them. omitempty and omitzero leave out what they leave out in encoding/json, and "-" leaves
// out the field. A field that is nil is absent; a nil list is an empty one.
//
// What does not count is absent, never zero: a tag `plain:"without=Unreachable"` leaves a
// field out where its neighbour Unreachable is set, and `plain:"with=Loaded"` where its
// neighbour Loaded is not. `plain:"when=Kind:arm"` writes it only where the neighbour's text is
// that. `plain:"as=ratio"` writes a number in SI units as the quantity of
// that name: angle, length, ratio and so on.
//
// # Values
//
// A type with a MarshalText method, or a number with a String method, is that word. A pair,
// such as a point of a curve, is a list of two numbers: [stick, value]. An error is an object
// with its "kind", which is the type's name in words, its "text", its exported fields, and its
// "cause". A value with a method PlainJSON() any is what that returns. A quantity that has no key
// of its own, such as one among values of other kinds, is an object with the key "value_" and
// the unit.
package plain
