package rotor

import (
	"fmt"

	"example.org/levelhead/units"
)

// CellPoint is the voltage of a cell at a charge, without load.
type CellPoint struct {
	Charge  units.Ratio // from 0, empty, to 1, full
	Voltage units.Voltage
}

// LithiumPolymer returns the resting voltage of a lithium polymer cell over its
// charge: common practice, no source. Use measurements of your own cell if you have them.
func LithiumPolymer() []CellPoint {
	return []CellPoint{
		{0, 3.27 * units.Volt}, {0.1, 3.69 * units.Volt}, {0.2, 3.73 * units.Volt}, {0.4, 3.80 * units.Volt},
		{0.6, 3.87 * units.Volt}, {0.8, 4.02 * units.Volt}, {1, 4.20 * units.Volt},
	}
}

// Battery is a number of equal cells in series.
type Battery struct {
	Cells      int
	Cell       []CellPoint      // by rising charge and voltage, at least one; straight lines between
	Resistance units.Resistance // of the whole battery and its leads
}

// Source is a source of direct current: a voltage with a resistance in series.
type Source struct {
	Voltage    units.Voltage // without load
	Resistance units.Resistance
}

// At returns the battery as a source at a charge, which must lie between the first
// and the last point of the cell. The error is a [*units.FieldError].
func (b Battery) At(charge units.Ratio) (Source, error) {
	if err := firstOf(
		within("Cells", "battery: cells", float64(b.Cells), 1, 100),
		within("Resistance", "battery: resistance (ohm)", b.Resistance, 0, maxResistance),
		within("Cell", "battery: points of the cell", float64(len(b.Cell)), 1, 1000),
	); err != nil {
		return Source{}, err
	}
	lo, least := units.Ratio(0), units.Voltage(0)
	for i, p := range b.Cell {
		point, words := fmt.Sprintf("Cell[%d].", i), fmt.Sprintf("battery: cell point %d: ", i+1)
		if err := firstOf(
			within(point+"Charge", words+"charge", p.Charge, lo, 1),
			within(point+"Voltage", words+"voltage (V)", p.Voltage, least, 100*units.Volt),
		); err != nil {
			return Source{}, err
		}
		lo, least = p.Charge, p.Voltage
	}
	first, last := b.Cell[0], b.Cell[len(b.Cell)-1]
	if err := within("charge", "charge", charge, first.Charge, last.Charge); err != nil {
		return Source{}, err
	}
	i := 0
	for b.Cell[i].Charge < charge {
		i++
	}
	cell := b.Cell[i].Voltage
	if p := b.Cell[i]; p.Charge > charge {
		from := b.Cell[i-1]
		share := units.Voltage((charge - from.Charge) / (p.Charge - from.Charge))
		cell = from.Voltage + share*(p.Voltage-from.Voltage)
	}
	return Source{cell * units.Voltage(b.Cells), b.Resistance}, nil
}
