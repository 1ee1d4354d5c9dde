package load_test

import (
	"errors"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/load"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/units"
)

// radioRounding is how far a trade's readings may be off the setup's: two steps of
// 0.5 % in rate and curve, of some 10° of pitch, and the pulse step.
const radioRounding = 0.15 * units.Degree

// A longer arm takes less rate, loads the servo more and moves the plate sooner and in
// coarser steps, and the blade does the same.
func TestOnArms(t *testing.T) {
	for _, name := range []string{"direct", "bellcranks", "spatial"} {
		r := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+name+".json"), func(m *machine.Machine) {
			limit := 200 * units.Percent
			m.Radio.RateLimit = &limit
		})
		// Any machine may be loaded by the demonstration machine's rotor.
		spin := demoSpin(t, rigtest.Build(t, rigtest.Read(t, rigtest.Demos+"direct.json")))
		m := turning(r, spin)
		arm := r.Servos()[0].Arm
		var before *load.ArmTrade
		for _, radius := range []units.Length{arm * 0.9, arm, arm * 1.15} {
			trade, err := m.OnArms(radius)
			if err != nil {
				t.Fatalf("%s, %v: %v", name, radius, err)
			}
			for _, servo := range trade.Setup.Rig().Servos() {
				if servo.Arm != radius {
					t.Errorf("%s: servo %s has an arm of %v, want %v", name, servo.Name, servo.Arm, radius)
				}
			}
			for _, stick := range []float64{0, 0.5, 1} {
				was, err := m.Setup.Row(stick)
				if err != nil {
					t.Fatal(err)
				}
				is, err := trade.Setup.Row(stick)
				if err != nil {
					t.Fatal(err)
				}
				if math.Abs(float64(is.Gauge-was.Gauge)) > float64(radioRounding) {
					t.Errorf("%s, %v at stick %v: %v, want %v", name, radius, stick, is.Gauge, was.Gauge)
				}
			}
			if before != nil {
				b, a := before.Demand, trade.Demand
				if !(trade.Transfer.Enter.Rates.Collective < before.Transfer.Enter.Rates.Collective && a.Peaks[0].Peak > b.Peaks[0].Peak &&
					math.Abs(float64(a.Turns[0])) < math.Abs(float64(b.Turns[0])) && a.Step > b.Step) {
					t.Errorf("%s, %v: rates %+v after %+v, duty %+v after %+v", name, radius, trade.Transfer.Enter.Rates, before.Transfer.Enter.Rates, a, b)
				}
			}
			before = trade
		}
	}
}

// The servos' work over a stroke is the blades', and so the same on any arms.
func TestArmsKeepTheWork(t *testing.T) {
	const (
		steps   = 200
		summing = 1e-4 // of the work: it is summed by the trapezoidal rule
	)
	r := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), rigtest.Stepless)
	spin := demoSpin(t, r)
	m := load.Turning{Setup: r.Modes()[1], Spin: spin}
	work := func(radius units.Length) float64 {
		trade, err := m.OnArms(radius)
		if err != nil {
			t.Fatal(err)
		}
		moved, rig := load.Turning{Setup: trade.Setup, Spin: spin}, trade.Setup.Rig()
		loads, state := make([]load.ServoLoad, len(rig.Servos())), rig.Head().Control.NewState()
		var sum float64
		var torques, arms [3]float64
		for k := range steps + 1 {
			d, err := trade.Transfer.Exact.Demand(pitch.Stick{Collective: 0.5 + 0.5*float64(k)/steps})
			if err != nil {
				t.Fatal(err)
			}
			if err := moved.ServoLoads(loads, state, d); err != nil {
				t.Fatal(err)
			}
			for i, l := range loads {
				torque, arm := float64(l.Mean), float64(state.Arms[i])
				if k > 0 {
					sum += (torque + torques[i]) / 2 * (arm - arms[i])
				}
				torques[i], arms[i] = torque, arm
			}
		}
		return sum
	}
	want := work(12 * units.Millimetre)
	for _, radius := range []units.Length{9, 10, 14, 16} {
		if got := work(radius * units.Millimetre); math.Abs(got-want) > summing*want || want <= 0 {
			t.Errorf("%v mm: work of %v J, at 12 mm %v J", float64(radius), got, want)
		}
	}
}

// The plate and blade stand at neutral as before, and the machine asked is left alone.
func TestWithArms(t *testing.T) {
	for _, name := range []string{"direct", "bellcranks", "fourservos", "flybar", "spatial"} {
		r := rigtest.Build(t, rigtest.Read(t, rigtest.Demos+name+".json"))
		untouched := rigtest.Build(t, rigtest.Read(t, rigtest.Demos+name+".json"))
		longer, err := r.WithArms(14 * units.Millimetre)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		a, b := r.Head().Control.Mechanism().Neutral(), longer.Head().Control.Mechanism().Neutral()
		const same = 1e-12
		if math.Abs(float64(a.Height-b.Height)) > same || math.Abs(float64(a.Tilt.Right-b.Tilt.Right)) > same || math.Abs(float64(a.Tilt.Forward-b.Tilt.Forward)) > same {
			t.Errorf("%s: neutral %+v, was %+v", name, b, a)
		}
		if diff := cmp.Diff(untouched.Machine().Plate, r.Machine().Plate); diff != "" {
			t.Errorf("%s has changed (-was +is):\n%s", name, diff)
		}
		for _, radius := range []units.Length{0, units.Length(math.NaN()), 900 * units.Millimetre} {
			var field *machine.FieldError
			if _, err := r.WithArms(radius); radius < 1 && !(radius > 0) && !errors.As(err, &field) {
				t.Errorf("%s: arms of %v: %v, want a *FieldError", name, radius, err)
			}
		}
	}
	lever := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"bellcranks.json"), func(m *machine.Machine) {
		radius := 10 * units.Millimetre
		m.Plate.BellCranks.Collective.Chain = []machine.Member{{Lever: &machine.Lever{Radius: &radius}}}
	})
	var field *machine.FieldError
	if _, err := lever.WithArms(14 * units.Millimetre); !errors.As(err, &field) || field.Path != "plate.bell_cranks.collective.chain[0]" {
		t.Errorf("a servo without an arm: %v", err)
	}
}

// Arms too short for the pitch are refused with how far they fall short, and rates
// beyond the radio's are a finding.
func TestOnShortArms(t *testing.T) {
	r := rigtest.Build(t, rigtest.Read(t, rigtest.Demos+"direct.json"))
	m := load.Turning{Setup: r.Modes()[1], Spin: demoSpin(t, r)}
	var target *setup.TargetError
	if _, err := m.OnArms(4 * units.Millimetre); !errors.As(err, &target) {
		t.Errorf("arms of 4 mm: %v, want a *TargetError", err)
	}
	trade, err := m.OnArms(8 * units.Millimetre)
	if err != nil {
		t.Fatal(err)
	}
	var kinds []sheet.Kind
	for _, f := range sheet.OfArms(trade) {
		kinds = append(kinds, f.Kind)
	}
	if diff := cmp.Diff([]sheet.Kind{sheet.RateTooHigh, sheet.RateTooHigh, sheet.LimitAtCorners}, kinds); diff != "" {
		t.Errorf("findings (-want +got):\n%s", diff)
	}
	if _, err := (load.Turning{Spin: m.Spin}).OnArms(8 * units.Millimetre); err == nil {
		t.Error("no machine was taken")
	}
}

// Holes are those that all servo types offer.
func TestArmHoles(t *testing.T) {
	r := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) {
		first := m.Servos["bench digital"]
		first.ArmHoles = append(first.ArmHoles, 14*units.Millimetre)
		m.Servos["bench digital"] = first
		other := m.Servos["bench digital"]
		other.ArmHoles = []units.Length{14 * units.Millimetre, 9 * units.Millimetre, 10 * units.Millimetre, 10 * units.Millimetre}
		m.Servos["other"] = other
		m.Plate.Legs[1].Servo.Type = "other"
	})
	if diff := cmp.Diff([]units.Length{10 * units.Millimetre, 14 * units.Millimetre}, r.ArmHoles()); diff != "" {
		t.Errorf("holes (-want +got):\n%s", diff)
	}
	if own := r.Servos()[0].Type.ArmHoles; len(own) != 5 || own[0] != 8*units.Millimetre {
		t.Errorf("asking has changed the machine's holes to %v", own)
	}
	if none := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) {
		kind := m.Servos["bench digital"]
		kind.ArmHoles = nil
		m.Servos["bench digital"] = kind
	}); len(none.ArmHoles()) != 0 {
		t.Errorf("holes %v where none are given", none.ArmHoles())
	}
}

// What is wrong with other arms is no fault of any line in the machine file.
func TestWithArmsNamesNoLine(t *testing.T) {
	for _, name := range []string{"direct", "bellcranks", "spatial"} {
		r := rigtest.Build(t, rigtest.Read(t, rigtest.Demos+name+".json"))
		var field *machine.FieldError
		if _, err := r.WithArms(-1 * units.Millimetre); !errors.As(err, &field) || field.Line != 0 {
			t.Errorf("%s: %v", name, err)
		}
	}
}
