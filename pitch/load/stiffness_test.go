package load_test

import (
	"errors"
	"math"
	"testing"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/load"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/rotor"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/servo"
	"example.org/levelhead/units"
)

// ratedServos are the ratings of a rig's servos, without deadband.
func ratedServos(r *setup.Rig) []servo.Rating {
	var ratings []servo.Rating
	for _, s := range r.Servos() {
		rating := s.Type.Rating.Servo()
		rating.Deadband = 0
		ratings = append(ratings, rating)
	}
	return ratings
}

// The pitch lost at a stick position is the blades' moment there over the stiffness,
// and servos twice as stiff hold twice as firmly.
func TestStiffness(t *testing.T) {
	const rounding = 1e-9
	r := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), rigtest.Stepless)
	spin := demoSpin(t, r)
	m := load.Turning{Setup: r.Modes()[1], Spin: spin}
	v := *r.Machine().ServoVoltage
	for _, stick := range []units.Ratio{0.2, 0.8, 1} {
		ratings := ratedServos(r)
		stiffness, err := m.Stiffness(stick, ratings, v)
		if err != nil {
			t.Fatal(err)
		}
		lost, err := m.LostAt(stick, ratings, v)
		if err != nil {
			t.Fatal(err)
		}
		demand, err := m.Setup.Setting().Demand(pitch.Stick{Collective: float64(stick)})
		if err != nil {
			t.Fatal(err)
		}
		blade, _, err := r.Head().Blade(r.Head().Control.NewState(), r.Gauge().Bearing, demand)
		if err != nil {
			t.Fatal(err)
		}
		moments, err := spin.Rotor.Feathering(spin.Blade, rotor.Pitch{Collective: blade}, spin.At)
		if err != nil {
			t.Fatal(err)
		}
		want := float64(moments.Total().Collective / stiffness)
		if math.Abs(float64(lost.Blade)-want) > rounding*math.Abs(want) || want*float64(blade) >= 0 {
			t.Errorf("stick %v at %v: changes by %v rad, want %v", stick, blade, float64(lost.Blade), want)
		}
		for i := range ratings {
			ratings[i].FullTorqueAt /= 2
		}
		if twice, err := m.Stiffness(stick, ratings, v); err != nil || math.Abs(float64(twice/stiffness)-2) > rounding {
			t.Errorf("stick %v: %v for servos twice as stiff as those of %v (%v)", stick, twice, stiffness, err)
		}
	}
}

// At high stick the pitch lost is that of a service there.
func TestLostAtHigh(t *testing.T) {
	r := rigtest.Build(t, rigtest.Read(t, rigtest.Demos+"flybar.json"))
	m, _ := load.Of(r.Modes()[1])
	duty, err := m.Demand()
	if err != nil {
		t.Fatal(err)
	}
	for _, v := range []units.Voltage{4, 5, 7} {
		service, err := duty.Performance(ratedServos(r), v)
		if err != nil {
			t.Fatal(err)
		}
		if lost, err := m.LostAt(1, ratedServos(r), v); err != nil || lost != service.Lost || lost.Blade >= 0 {
			t.Errorf("%v: %+v, %v; the service loses %+v", v, lost, err, service.Lost)
		}
	}
}

// Blades at zero pitch load nothing, whatever the lengths are: rounding does not choose an
// end of the deadband.
func TestLostAtMiddle(t *testing.T) {
	for _, file := range []string{"direct", "flybar"} {
		for k := range 12 {
			r := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+file+".json"), func(m *machine.Machine) {
				rigtest.Straight(m)
				m.Head.HornRadius += units.Length(k) * 0.1 * units.Millimetre
			})
			m, _ := load.Of(r.Modes()[0])
			ratings, rated := load.Ratings(r)
			if !rated || ratings[0].Deadband == 0 {
				t.Fatalf("%s: no deadband", file)
			}
			if lost, err := m.LostAt(0.5, ratings, *r.Machine().ServoVoltage); err != nil || lost.Blade != 0 || lost.Tilt != 0 {
				t.Errorf("%s, horns %d tenths longer: %+v, %v", file, k, lost, err)
			}
		}
	}
}

func TestStiffnessErrors(t *testing.T) {
	r := rigtest.Build(t, rigtest.Read(t, rigtest.Demos+"direct.json"))
	m := turning(r, demoSpin(t, r))
	var mode *setup.ModeError
	var input *units.FieldError
	var overload *servo.OverloadError
	if _, err := m.Stiffness(1, nil, 6); !errors.As(err, &mode) || !errors.As(err, &input) {
		t.Errorf("no ratings: %v", err)
	}
	if _, err := m.Stiffness(units.Ratio(math.NaN()), ratedServos(r), 6); !errors.As(err, &mode) {
		t.Errorf("no stick: %v", err)
	}
	if _, err := m.LostAt(1, ratedServos(r), units.Voltage(math.NaN())); !errors.As(err, &mode) {
		t.Errorf("no voltage: %v", err)
	}
	weak := ratedServos(r)
	for i := range weak {
		for k := range weak[i].Points {
			weak[i].Points[k].Stall /= 1000
		}
	}
	if _, err := m.LostAt(1, weak, 6); !errors.As(err, &overload) {
		t.Errorf("servos that the load stalls: %v", err)
	}
}
