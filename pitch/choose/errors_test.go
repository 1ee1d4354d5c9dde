package choose_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.org/levelhead/pitch/choose"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/servo"
	"example.org/levelhead/units"
)

func TestListErrors(t *testing.T) {
	direct, cranks := rigOf(t, "direct", nil), rigOf(t, "bellcranks", nil)
	nan, inf := units.Length(math.NaN()), units.Length(math.Inf(1))
	for _, tt := range []struct {
		name    string
		rig     *setup.Rig
		owned   choose.Owned
		options choose.Options
		field   string
		says    string
	}{
		{"no machine", nil, choose.Owned{}, choose.Options{}, "rig", "machine"},
		{"no arms", direct, choose.Owned{Arms: []units.Length{}}, choose.Options{}, "Arms", "arms"},
		{"NaN arm", direct, choose.Owned{Arms: []units.Length{mm, nan}}, choose.Options{}, "Arms[1]", "arms: entry 2"},
		{"no teeth", direct, choose.Owned{Teeth: []int{}}, choose.Options{}, "Teeth", "teeth"},
		{"negative ball", direct, choose.Owned{Balls: []units.Length{-mm}}, choose.Options{}, "Balls[0]", "balls: entry 1"},
		{"endless link", direct, choose.Owned{Links: []units.Length{inf}}, choose.Options{}, "Links[0]", "links: entry 1"},
		{"zero horn", direct, choose.Owned{Horns: []units.Length{mm, mm, 0}}, choose.Options{}, "Horns[2]", "pitch horns: entry 3"},
		{"arms on bell cranks", cranks, choose.Owned{Arms: []units.Length{mm}}, choose.Options{}, "Arms", "arms, teeth, balls and links"},
		{"negative pulse", direct, choose.Owned{}, choose.Options{BeyondLimit: -1}, "BeyondLimit", "beyond limit"},
		{"NaN pulse", direct, choose.Owned{}, choose.Options{BeyondLimit: units.PulseWidth(nan)}, "BeyondLimit", "beyond limit"},
		{"no objectives", direct, choose.Owned{}, choose.Options{Objectives: []choose.Objective{}}, "Objectives", "objectives"},
		{"unknown objective", direct, choose.Owned{}, choose.Options{Objectives: []choose.Objective{choose.Tilt, 9}}, "Objectives[1]", "objectives: entry 2"},
		{"the same objective", direct, choose.Owned{}, choose.Options{Objectives: []choose.Objective{choose.Load, choose.Load}}, "Objectives[1]", "objectives: entry 2"},
	} {
		_, err := choose.Search(t.Context(), tt.rig, tt.owned, tt.options)
		var input *units.FieldError
		if !errors.As(err, &input) || input.Field != tt.field || !strings.HasPrefix(err.Error(), "choose: "+tt.says) {
			t.Errorf("%s: %v, want one of %s, %s", tt.name, err, tt.field, tt.says)
		}
	}
}

func TestCountError(t *testing.T) {
	rig := rigOf(t, "direct", nil)
	horns := make([]units.Length, 3000)
	for i := range horns {
		horns[i] = units.Length(16+0.001*float64(i)) * mm
	}
	var count *choose.CountError
	for _, tt := range []struct {
		owned choose.Owned
		most  int
		want  float64
	}{
		{choose.Owned{Horns: horns}, 0, 4 * 3000},
		{choose.Owned{Horns: horns, Unlike: true}, 0, 4 * 4 * 4 * 3000},
		{choose.Owned{Arms: horns, Balls: horns, Links: horns, Horns: horns, Unlike: true}, math.MaxInt, math.Pow(3000, 6)},
		{choose.Owned{}, 3, 4},
	} {
		if _, err := choose.Search(t.Context(), rig, tt.owned, choose.Options{Most: tt.most}); !errors.As(err, &count) || count.Count != tt.want {
			t.Errorf("%v, want %.0f combinations", err, tt.want)
		}
	}
}

func TestObjectiveError(t *testing.T) {
	rig := rigOf(t, "spatial", nil) // without rotor and ratings
	var unknown *choose.ObjectiveError
	if _, err := choose.Search(t.Context(), rig, choose.Owned{}, choose.Options{Objectives: []choose.Objective{choose.Stroke}}); !errors.As(err, &unknown) || unknown.Objective != choose.Stroke {
		t.Errorf("%v, want an *ObjectiveError for the stroke", err)
	}
}

// Try refuses a pulse beyond the limit that is no pulse width, too.
func TestTryBeyondLimit(t *testing.T) {
	for _, beyond := range []units.PulseWidth{-1, units.PulseWidth(math.NaN()), units.PulseWidth(math.Inf(1))} {
		r := choose.Try(rigOf(t, "direct", nil), choose.Candidate{}, beyond)
		if err := errors.Join(r.Unfit...); !errors.As(err, new(*units.FieldError)) {
			t.Errorf("%v: %v", beyond, err)
		}
	}
}

// A candidate that does not suit says why, and by how much.
func TestUnfit(t *testing.T) {
	direct := rigOf(t, "direct", nil)
	weak := rigOf(t, "direct", func(m *machine.Machine) {
		kind := m.Servos["bench digital"]
		rating := *kind.Rating
		rating.Points = []machine.RatingPoint{{Voltage: 7.4, Stall: 0.05 * units.KilogramForceCentimetre * 10, Speed: 10}}
		kind.Rating = &rating
		m.Servos["bench digital"] = kind
	})
	strict := rigOf(t, "direct", func(m *machine.Machine) {
		limits := machine.DefaultLimits()
		limits.PitchError, limits.BallLinkAngle = 0.001*units.Degree, 0.1*units.Degree
		m.Limits = &limits
	})
	all := func(arm units.Length) []units.Length { return []units.Length{arm, arm, arm} }
	for _, tt := range []struct {
		name      string
		rig       *setup.Rig
		candidate choose.Candidate
		target    any
		text      string
	}{
		{"short arms", direct, choose.Candidate{Arms: all(3 * mm)}, new(*setup.TargetError), "out of reach by"},
		{"far too long arms", direct, choose.Candidate{Arms: all(70 * mm)}, new(*choose.SquareError), "servo front: an arm of 70 mm is 10.77 mm too long"},
		{"NaN arms", direct, choose.Candidate{Arms: all(units.Length(math.NaN()))}, new(*choose.ServoError), "servo front"},
		{"two arms", direct, choose.Candidate{Arms: all(8 * mm)[:2]}, new(*units.FieldError), "must be one for each of the 3 servos, not 2"},
		{"corners beyond the pulse limit", direct, choose.Candidate{Arms: all(10 * mm)}, new(*choose.PulseError), "a servo would need 178 µs more than its pulse limit"},
		{"too much rate", direct, choose.Candidate{Arms: all(8 * mm)}, new(*choose.LimitError), "right cyclic rate is 118.5 %, beyond the limit by 18.5 % (our limit 100 %; the radio's manual decides)"},
		{"coarse steps", strict, choose.Candidate{}, new(*choose.LimitError), "pitch error"},
		{"a slanting link", strict, choose.Candidate{}, new(*choose.LimitError), "° (limit 0.1°)"},
		{"a tooth off", direct, choose.Candidate{Arms: all(12 * mm), Teeth: 1}, new(*choose.LimitError), "° (our limit 25°; the maker's manual decides)"},
		{"weak servos", weak, choose.Candidate{Arms: all(14 * mm)}, new(*servo.OverloadError), "stalls the servo"},
		{"NaN horn", direct, choose.Candidate{Horn: units.Length(math.NaN())}, nil, "horn"},
		{"no horn to speak of", direct, choose.Candidate{Horn: 1e-300}, nil, ""},
		{"an enormous horn", direct, choose.Candidate{Horn: 1e300}, nil, ""},
		{"endless teeth", direct, choose.Candidate{Teeth: math.MaxInt}, nil, ""},
		{"teeth on bell cranks", rigOf(t, "bellcranks", nil), choose.Candidate{Teeth: 1}, new(*units.FieldError), "only the pitch horns"},
		{"no machine", nil, choose.Candidate{}, new(*units.FieldError), "must not be nil"},
	} {
		r := choose.Try(tt.rig, tt.candidate, 0)
		err := errors.Join(r.Unfit...)
		if err == nil || tt.target != nil && !errors.As(err, tt.target) || !strings.Contains(err.Error(), tt.text) {
			t.Errorf("%s: %v, want a %T with %q", tt.name, err, tt.target, tt.text)
		}
	}
}
