package sheet

import (
	"strconv"
	"strings"

	"example.org/levelhead/units"
)

// What follows are the forms in JSON, by package units/plain, of what holds quantities as text.

// PlainJSON returns what stands for a number in JSON: with its value as a number, whose key has
// the unit.
func (n Number) PlainJSON() any {
	form := struct {
		Name  string   `json:"name"`
		Servo string   `json:"servo,omitempty"`
		Value any      `json:"value"`
		Area  *float64 `json:"value_dm2"`
	}{Name: n.Name, Servo: n.Servo}
	if number, isArea := strings.CutSuffix(n.Value, " dm²"); isArea {
		if area, err := strconv.ParseFloat(number, 64); err == nil {
			form.Area = &area
			return form
		}
	}
	form.Value = quantityOf(n.Value)
	return form
}

// stepFields are those of a Step, without its methods.
type stepFields Step

// PlainJSON returns what stands for a step in JSON: with By as a number, whose key has the unit.
func (s Step) PlainJSON() any {
	return struct {
		stepFields
		By any `json:"by"`
	}{stepFields(s), quantityOf(s.By)}
}

// quantityOf returns the quantity, or else the count, that a text is; or the text.
func quantityOf(text string) any {
	for _, parse := range []func(string) (any, bool){
		as[units.Angle], as[units.Length], as[units.Ratio], as[units.Torque], as[units.Force], as[units.AngularSpeed], as[units.Velocity], as[units.Mass],
		as[units.Voltage], as[units.Current], as[units.Resistance], as[units.Power], as[units.Stiffness], as[units.Inertia],
	} {
		if q, ok := parse(text); ok {
			return q
		}
	}
	// Both can be in seconds; a pulse width is in microseconds unless that is not exact.
	if p, ok := as[units.PulseWidth](text); ok && strings.HasSuffix(text, "µs") {
		return p
	}
	if t, ok := as[units.Time](text); ok {
		return t
	}
	if n, err := strconv.ParseFloat(text, 64); err == nil {
		return n
	}
	return text
}

func as[Q units.Quantity](text string) (any, bool) {
	q, err := units.Parse[Q](text)
	return q, err == nil
}
