package rotor

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/levelhead/units"
)

func testBattery(t testing.TB, charge units.Ratio) Source {
	t.Helper()
	s, err := Battery{Cells: 6, Cell: LithiumPolymer(), Resistance: 12 * units.Milliohm}.At(charge)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func testElectric(t testing.TB) Electric {
	return Electric{
		Source: testBattery(t, 0.6),
		Motor:  Motor{SpeedConstant: 920 * units.RevolutionPerMinute, Resistance: 20 * units.Milliohm, NoLoad: 2.5},
		Gear:   Gear{Ratio: 8.5, Efficiency: 0.87},
	}
}

func testEngine(t testing.TB) *Engine {
	t.Helper()
	e, err := NewEngine([]EnginePoint{
		{8000 * units.RevolutionPerMinute, 900},
		{12000 * units.RevolutionPerMinute, 1500},
		{16000 * units.RevolutionPerMinute, 1700},
		{18000 * units.RevolutionPerMinute, 1400},
	}, Gear{Ratio: 8.5, Efficiency: 0.87})
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func TestBattery(t *testing.T) {
	b := Battery{Cells: 3, Cell: []CellPoint{{0, 3}, {0.5, 3.8}, {1, 4.2}}, Resistance: 0.03}
	for charge, want := range map[units.Ratio]float64{0: 9, 0.1: 9.48, 0.25: 10.2, 0.5: 11.4, 0.75: 12, 1: 12.6} {
		s, err := b.At(charge)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "voltage", s.Voltage.Volts(), want, 1e-15)
	}
	b.Cell = b.Cell[1:2]
	s, err := b.At(0.5)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "voltage of one point", s.Voltage.Volts(), 11.4, 1e-15)
	var input *units.FieldError
	for _, charge := range []units.Ratio{0.4, 0.6, -1, units.Ratio(math.NaN())} {
		if _, err := b.At(charge); !errors.As(err, &input) {
			t.Errorf("charge %v off the table: %v", charge, err)
		}
	}
	b.Cell = []CellPoint{{0.5, 3.8}, {0.4, 3.7}}
	if _, err := b.At(0.45); !errors.As(err, &input) {
		t.Errorf("falling charge: %v", err)
	}
}

// TestEnergyBalance: the power from the cells is what the rotor gets and the losses.
func TestEnergyBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		e := Electric{
			Source: Source{units.Voltage(draw("volts", 3, 60)), units.Resistance(draw("source", 0, 0.1))},
			Motor: Motor{
				SpeedConstant: units.AngularSpeed(draw("kv", 100, 4000)) * units.RevolutionPerMinute,
				Resistance:    units.Resistance(draw("winding", 0, 0.2)),
				NoLoad:        units.Current(draw("no load", 0, 5)),
			},
			Gear: Gear{units.Ratio(draw("gear", 1, 15)), units.Ratio(draw("efficiency", 0.5, 1))},
		}
		speed := units.AngularSpeed(draw("rpm", 100, 3000)) * units.RevolutionPerMinute
		torque := units.Torque(draw("torque", 0, 10))
		o, err := e.Hold(speed, torque)
		var hold *HoldError
		if errors.As(err, &hold) {
			best := hold.Best
			if best < 0 || best >= speed {
				t.Fatalf("best speed %v, wanted %v", best, speed)
			}
			if best < units.RevolutionPerMinute {
				return
			}
			at := func(share units.AngularSpeed) (Operation, error) {
				return e.Hold(share*speed, units.Torque(share*share)*torque)
			}
			const more = 1 + 1e-10
			if _, err := at(more * best / speed); !errors.As(err, &hold) {
				t.Fatalf("more than the best speed: %v", err)
			}
			if o, err = at(best / speed); err != nil {
				t.Fatalf("the best speed cannot be held: %v", err)
			}
		} else if err != nil {
			t.Fatal(err)
		}
		const rounding = 1e-12
		for _, c := range []struct {
			what      string
			got, want float64
		}{
			{"sum", float64(o.Rotor + o.GearLoss + o.NoLoadLoss + o.CopperLoss + o.SourceLoss), float64(o.Power)},
			{"at the terminals", float64(o.BatteryVoltage) * float64(o.BatteryCurrent), float64(o.Power - o.SourceLoss)},
			{"at the motor", float64(o.MotorVoltage) * float64(o.MotorCurrent), float64(o.Power - o.SourceLoss)},
			{"through the controller", float64(o.BatteryVoltage) * float64(o.Throttle) * float64(o.MotorCurrent), float64(o.Power - o.SourceLoss)},
			{"efficiency", float64(o.Efficiency()) * float64(o.Power), float64(o.Rotor)},
		} {
			if math.Abs(c.got-c.want) > rounding*float64(o.Power) {
				t.Fatalf("%s: %v, want %v", c.what, c.got, c.want)
			}
		}
		for _, loss := range []units.Power{o.GearLoss, o.NoLoadLoss, o.CopperLoss, o.SourceLoss} {
			if float64(loss) < -rounding*float64(o.Power) {
				t.Fatalf("a loss below 0: %+v", o)
			}
		}
	})
}

// TestMotorByHand: a motor by the textbook. A rotor of 100 rad/s and 2 N·m behind a
// gear of 5 without loss: 500 rad/s and 0.4 N·m at the motor; at 50 rad/s/V, 10 V
// and 20 A, with 1 A of no load 21 A; 0.1 ohm takes 2.1 V.
func TestMotorByHand(t *testing.T) {
	e := Electric{
		Source: Source{Voltage: 24.2},
		Motor:  Motor{SpeedConstant: 50, Resistance: 0.1, NoLoad: 1},
		Gear:   Gear{Ratio: 5, Efficiency: 1},
	}
	o, err := e.Hold(100, 2)
	if err != nil {
		t.Fatal(err)
	}
	const rounding = 1e-14
	near(t, "throttle", float64(o.Throttle), 0.5, rounding)
	near(t, "motor current", o.MotorCurrent.Amperes(), 21, rounding)
	near(t, "motor voltage", o.MotorVoltage.Volts(), 12.1, rounding)
	near(t, "battery current", o.BatteryCurrent.Amperes(), 10.5, rounding)
	near(t, "no-load loss", o.NoLoadLoss.Watts(), 10, rounding)
	near(t, "copper loss", o.CopperLoss.Watts(), 44.1, rounding)
	near(t, "rotor", o.Rotor.Watts(), 200, rounding)
	near(t, "motor speed", float64(o.Speed), 500, rounding)

	// With a source of 0.1 ohm, full throttle with 21 A needs 14.2 V.
	e.Source = Source{14.2, 0.1}
	if o, err = e.Hold(100, 2); err != nil {
		t.Fatal(err)
	}
	near(t, "full throttle", float64(o.Throttle), 1, rounding)
	e.Source.Voltage = 14.1
	_, err = e.Hold(100, 2)
	var hold *HoldError
	if !errors.As(err, &hold) {
		t.Fatalf("error %v", err)
	}
	// 14.1 V = 10 k + (0.1 + 0.1) (20 k² + 1): 4 k² + 10 k - 13.9 = 0.
	near(t, "best speed", float64(hold.Best), 100*(-10+math.Sqrt(100+16*13.9))/8, 1.1*(1-clearance))
}

func TestEngine(t *testing.T) {
	e := testEngine(t)
	speed := 14000 * units.RevolutionPerMinute / 8.5 // between two points: 1600 W
	torque := units.Torque(0.87 * 800 / float64(speed))
	o, err := e.Hold(speed, torque)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "throttle", float64(o.Throttle), 0.5, 1e-14)
	near(t, "power", o.Power.Watts(), 800, 1e-14)
	near(t, "sum", float64(o.Rotor+o.GearLoss), float64(o.Power), 1e-14)
	near(t, "efficiency", float64(o.Efficiency()), 0.87, 1e-14)

	_, err = e.Hold(speed, 3*torque)
	var hold *HoldError
	if !errors.As(err, &hold) || !(hold.Best > 0 && hold.Best < speed) {
		t.Fatalf("error %v", err)
	}
	k := units.Torque(hold.Best * hold.Best / (speed * speed))
	if o, err = e.Hold(hold.Best, 3*torque*k); err != nil {
		t.Fatal(err)
	}
	near(t, "throttle at the best speed", float64(o.Throttle), 1, 1e-9)

	_, err = e.Hold(2*speed, torque)
	if !errors.As(err, &hold) {
		t.Fatalf("off the power curve: %v", err)
	}
	near(t, "best speed below the curve's end", hold.Best.RPM(), 18000/8.5, 1e-9)
}

func TestThrottleCurve(t *testing.T) {
	r := testRotor(t)
	pitches := []units.Angle{-8 * units.Degree, 0, 6 * units.Degree, 12 * units.Degree, 40 * units.Degree}
	curve := r.ThrottleCurve(nil, testElectric(t), seaLevel(1800), pitches)
	if len(curve) != len(pitches) {
		t.Fatalf("%d points", len(curve))
	}
	for i, p := range curve[:4] {
		if p.Err != nil || p.Pitch != pitches[i] {
			t.Errorf("point %+v", p)
		}
		near(t, "power at the rotor", float64(p.Operation.Rotor), float64(p.Loads.Power), 1e-13)
	}
	if a, b, c := curve[1].Operation, curve[2].Operation, curve[3].Operation; !(a.Throttle < b.Throttle && b.Throttle < c.Throttle) {
		t.Errorf("throttle %v, %v, %v", a.Throttle, b.Throttle, c.Throttle)
	}
	var input *units.FieldError
	if !errors.As(curve[4].Err, &input) {
		t.Errorf("40°: %v", curve[4].Err)
	}
	var hold *HoldError
	if p := r.ThrottleCurve(nil, testElectric(t), seaLevel(2600), pitches[3:4]); !errors.As(p[0].Err, &hold) {
		t.Errorf("2600 rpm: %+v", p)
	}
	if p := r.ThrottleCurve(nil, testEngine(t), seaLevel(1800), pitches[2:3]); p[0].Err != nil {
		t.Errorf("engine: %+v", p)
	}
}
