package units_test

import (
	"encoding"
	"fmt"
	"math"

	"pgregory.net/rapid"

	"example.org/levelhead/units"
)

// A probe is one quantity type, as functions of its value in SI units.
type probe struct {
	name    string
	parse   func(text string) (float64, error)
	decode  func(text string, onto float64) (float64, error)
	marshal func(si float64) (string, error)
	format  func(si float64) string
	finite  func(si float64) bool
}

func probeOf[Q interface {
	units.Quantity
	fmt.Stringer
	encoding.TextMarshaler
}, P interface {
	*Q
	encoding.TextUnmarshaler
}](name string) probe {
	return probe{
		name: name,
		parse: func(text string) (float64, error) {
			q, err := units.Parse[Q](text)
			return float64(q), err
		},
		decode: func(text string, onto float64) (float64, error) {
			q := Q(onto)
			err := P(&q).UnmarshalText([]byte(text))
			return float64(q), err
		},
		marshal: func(si float64) (string, error) {
			text, err := Q(si).MarshalText()
			return string(text), err
		},
		format: func(si float64) string { return Q(si).String() },
		finite: func(si float64) bool { return units.Finite(Q(si)) },
	}
}

var probes = []probe{
	probeOf[units.Angle]("angle"),
	probeOf[units.AngularSpeed]("angular speed"),
	probeOf[units.Length]("length"),
	probeOf[units.Velocity]("velocity"),
	probeOf[units.Mass]("mass"),
	probeOf[units.Inertia]("inertia"),
	probeOf[units.Time]("time"),
	probeOf[units.PulseWidth]("pulse width"),
	probeOf[units.Force]("force"),
	probeOf[units.Torque]("torque"),
	probeOf[units.Voltage]("voltage"),
	probeOf[units.Current]("current"),
	probeOf[units.Resistance]("resistance"),
	probeOf[units.Power]("power"),
	probeOf[units.Stiffness]("stiffness"),
	probeOf[units.Ratio]("ratio"),
}

// anyFinite draws every finite float64, the subnormal ones included.
var anyFinite = rapid.OneOf(
	rapid.Float64(),
	rapid.Float64Range(-1e4, 1e4),
	rapid.Map(rapid.Uint64(), math.Float64frombits).Filter(finite),
	rapid.SampledFrom([]float64{
		0, math.Copysign(0, -1), math.SmallestNonzeroFloat64, 0x1p-1022,
		math.MaxFloat64, -math.MaxFloat64,
	}),
)

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// notFinite are the values that every quantity refuses to write.
var notFinite = []float64{math.NaN(), math.Inf(1), math.Inf(-1)}

// ulps returns by how many units in the last place of want got is off.
func ulps(got, want float64) float64 {
	want = math.Abs(want)
	return math.Abs(math.Abs(got)-want) / (math.Nextafter(want, math.Inf(1)) - want)
}
