package units

import "math"

// Quantity is satisfied by the quantity types of this package and no others.
type Quantity interface {
	Angle | AngularSpeed | Length | Velocity | Mass | Inertia | Time | PulseWidth |
		Force | Torque | Stiffness | Voltage | Current | Resistance | Power | Ratio

	dimension() *dimension
}

// Finite reports whether q is a number to calculate with: neither NaN nor an infinity.
func Finite[Q Quantity](q Q) bool {
	return isFinite(float64(q))
}

func isFinite(x float64) bool {
	return !math.IsNaN(x) && !math.IsInf(x, 0)
}

// A dimension is the table of units in which one quantity is read and written.
type dimension struct {
	name       string
	units      []unit // in the order in which an error names them
	preferred  unit   // in which a quantity is written
	base       unit   // the coherent SI unit, with factor 1
	bySpelling map[string]unit
}

// A unit is one row of the table.
type unit struct {
	symbol string
	factor float64 // the unit's size in SI units
	// inverse marks a unit that divides: x of it are factor/x in SI units.
	inverse bool
}

// newDimension makes the table of the named quantity. The first row is the
// preferred unit.
func newDimension(name string, rows ...row) *dimension {
	d := &dimension{name: name, preferred: rows[0].unit, bySpelling: map[string]unit{}}
	for _, r := range rows {
		d.units = append(d.units, r.unit)
		if r.factor == 1 {
			d.base = r.unit
		}
		for _, spelling := range append(r.also, r.symbol) {
			d.bySpelling[canonical(spelling)] = r.unit
		}
	}
	return d
}

// A row is a unit and the spellings that are read beside its symbol.
type row struct {
	unit
	also []string
}

func of[Q ~float64](size Q, symbol string, also ...string) row {
	return row{unit{symbol: symbol, factor: float64(size)}, also}
}

func (d *dimension) symbols() []string {
	symbols := make([]string, len(d.units))
	for i, u := range d.units {
		symbols[i] = u.symbol
	}
	return symbols
}
