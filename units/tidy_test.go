package units_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/levelhead/units"
)

// all has every quantity, so that none is passed over.
type all struct {
	Angle        units.Angle
	AngularSpeed units.AngularSpeed
	Length       units.Length
	Velocity     units.Velocity
	Mass         units.Mass
	Inertia      units.Inertia
	Time         units.Time
	PulseWidth   units.PulseWidth
	Force        units.Force
	Torque       units.Torque
	Stiffness    units.Stiffness
	Voltage      units.Voltage
	Current      units.Current
	Resistance   units.Resistance
	Power        units.Power
	Ratio        units.Ratio
}

// Tidy is Round to six decimals for every quantity, wherever it stands, and leaves plain
// numbers, what is unexported and what is no number alone.
func TestTidy(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(-1e6, 1e6).Draw(t, "x")
		of := all{units.Angle(x), units.AngularSpeed(x), units.Length(x), units.Velocity(x), units.Mass(x), units.Inertia(x), units.Time(x), units.PulseWidth(x),
			units.Force(x), units.Torque(x), units.Stiffness(x), units.Voltage(x), units.Current(x), units.Resistance(x), units.Power(x), units.Ratio(x)}
		want := all{units.Round(of.Angle, 6), units.Round(of.AngularSpeed, 6), units.Round(of.Length, 6), units.Round(of.Velocity, 6), units.Round(of.Mass, 6),
			units.Round(of.Inertia, 6), units.Round(of.Time, 6), units.Round(of.PulseWidth, 6), units.Round(of.Force, 6), units.Round(of.Torque, 6), units.Round(of.Stiffness, 6),
			units.Round(of.Voltage, 6), units.Round(of.Current, 6), units.Round(of.Resistance, 6), units.Round(of.Power, 6), units.Round(of.Ratio, 6)}
		deep := struct {
			One    *all
			Listed [2][]all
			Plain  float64
			hidden units.Angle
			None   *all
		}{One: &of, Listed: [2][]all{{of}, nil}, Plain: x, hidden: units.Angle(x)}
		units.Tidy(&deep)
		if *deep.One != want || deep.Listed[0][0] != want || deep.Plain != x || deep.hidden != units.Angle(x) || deep.None != nil {
			t.Errorf("%+v, want %+v", deep, want)
		}
	})
	nan := units.Angle(math.NaN())
	if units.Tidy(&nan); !math.IsNaN(float64(nan)) {
		t.Errorf("NaN became %v", float64(nan))
	}
}
