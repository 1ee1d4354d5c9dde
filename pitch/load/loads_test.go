package load_test

import (
	"math"
	"strings"
	"testing"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/load"
	"example.org/levelhead/pitch/rotor"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/servo"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// demoSpin is the demonstration machine's rotor, turning.
func demoSpin(tb testing.TB, r *setup.Rig) load.Spin {
	tb.Helper()
	turning, ok := load.Of(r.Modes()[0])
	if !ok {
		tb.Fatal("no rotor, or no rotor speed")
	}
	return turning.Spin
}

// turning is a rig in its first mode below a rotor, which need not be its own.
func turning(r *setup.Rig, spin load.Spin) load.Turning {
	return load.Turning{Setup: r.Modes()[0], Spin: spin}
}

// servoLoads returns a rig's servo loads at a demand.
func servoLoads(tb testing.TB, r *setup.Rig, spin load.Spin, d swash.Demand) []load.ServoLoad {
	tb.Helper()
	loads := make([]load.ServoLoad, len(r.Servos()))
	if err := turning(r, spin).ServoLoads(loads, r.Head().Control.NewState(), d); err != nil {
		tb.Fatal(err)
	}
	return loads
}

// With the plate level every blade's moment is the same and steady: it pulls the
// plate down at positive pitch, and even servos hold a third of it each.
func TestServoLoadsLevel(t *testing.T) {
	r := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), rigtest.Stepless)
	spin := demoSpin(t, r)
	d := swash.Demand{Collective: 0.35}
	loads := servoLoads(t, r, spin, d)
	state := r.Head().Control.NewState()
	pose, _, err := r.Head().Control.Slopes(state, d)
	if err != nil {
		t.Fatal(err)
	}
	e, err := r.Head().Grip.Effect(0, pose)
	if err != nil {
		t.Fatal(err)
	}
	moments, err := spin.Rotor.Feathering(spin.Blade, rotor.Pitch{Collective: e.Pitch}, spin.At)
	if err != nil {
		t.Fatal(err)
	}
	moment := moments.Total().At(0)
	if moment >= 0 {
		t.Fatalf("the moment %v does not flatten a blade at %v", moment, e.Pitch)
	}
	for i, l := range loads {
		// Two blades, and the plate's rise shared among three arms.
		want := -2 * float64(moment) * e.PerPose.Height * state.Effects[i].PerArm.Height
		if math.Abs(float64(l.Mean)-want) > 1e-9*want || math.Abs(float64(l.Peak)-want) > 1e-9*want || want <= 0 {
			t.Errorf("servo %d: mean %v, peak %v, want %v N·m", i+1, l.Mean, l.Peak, want)
		}
	}
}

// The servos' work over any small change of the arms is the blades' work against
// their moments, whatever the pose.
func TestServoLoadsByVirtualWork(t *testing.T) {
	r := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"spatial.json"), rigtest.Stepless)
	spin := demoSpin(t, rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), rigtest.Stepless))
	d := swash.Demand{Collective: 0.2, Right: 0.3, Forward: -0.25}
	loads := servoLoads(t, r, spin, d)
	state := r.Head().Control.NewState()
	pose, err := r.Head().Control.Pose(state, d)
	if err != nil {
		t.Fatal(err)
	}
	rev, err := r.Head().Grip.Revolution(pose)
	if err != nil {
		t.Fatal(err)
	}
	moments, err := spin.Rotor.Feathering(spin.Blade, rotor.Pitch(rev.Cyclic), spin.At)
	if err != nil {
		t.Fatal(err)
	}
	const step, stations = 1e-5, 24
	for i := range state.Arms {
		moved := append([]units.Angle(nil), state.Arms...)
		pitchAt := func(by units.Angle, psi units.Angle) float64 {
			moved[i] = state.Arms[i] + by
			p, err := r.Head().Control.Mechanism().Pose(moved)
			if err != nil {
				t.Fatal(err)
			}
			a, err := r.Head().Grip.Pitch(psi, p)
			if err != nil {
				t.Fatal(err)
			}
			return float64(a)
		}
		var work float64
		for k := range stations {
			psi := units.Angle(k) * 2 * math.Pi / stations
			// Two blades: over a whole revolution each passes every station.
			work += 2 * float64(moments.Total().At(psi)) * (pitchAt(step, psi) - pitchAt(-step, psi)) / (2 * step) / stations
		}
		if got := float64(loads[i].Mean); math.Abs(got+work) > 1e-6*math.Max(math.Abs(work), 0.01) {
			t.Errorf("servo %d: holds %v N·m, the blades work %v N·m", i+1, got, work)
		}
		if loads[i].Peak < units.Torque(math.Abs(float64(loads[i].Mean))) {
			t.Errorf("servo %d: peak %v below the mean %v", i+1, loads[i].Peak, loads[i].Mean)
		}
	}
}

// The peak over the sticks is that of some corner, and not below any of them.
func TestPeaks(t *testing.T) {
	r := rigtest.Build(t, rigtest.Read(t, rigtest.Demos+"direct.json"))
	spin := demoSpin(t, r)
	m := load.Turning{Setup: r.Modes()[1], Spin: spin}
	peaks, missed, err := m.Peaks(5)
	if err != nil || missed != 0 {
		t.Fatal(err)
	}
	for _, stick := range []pitch.Stick{{Collective: 1, Right: 1, Forward: 1}, {Collective: 0, Right: -1}, {Collective: 0.5}} {
		d, err := m.Setup.Setting().Demand(stick)
		if err != nil {
			t.Fatal(err)
		}
		for i, l := range servoLoads(t, r, spin, d) {
			if l.Peak > peaks[i].Peak {
				t.Errorf("servo %d: %v at %+v, above the peak %v at %s", i+1, l.Peak, stick, peaks[i].Peak, peaks[i].At)
			}
		}
	}
	for _, p := range peaks {
		if p.Peak <= 0 || !strings.Contains(p.At, "stick") {
			t.Errorf("%+v", p)
		}
	}
	wide := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), rigtest.WideThrow)
	if _, missed, err := turning(wide, spin).Peaks(5); err != nil || missed == 0 || missed == 5*5*5 {
		t.Errorf("pitch beyond the theory: %d places missed, %v", missed, err)
	}
	still := m
	still.Spin.At.Speed = 0
	if _, _, err := still.Peaks(5); err == nil {
		t.Error("a rotor that stands still was taken")
	}
	if _, _, err := m.Peaks(1); err == nil {
		t.Error("a grid of one position was taken")
	}
}

func TestServoLoadsAllocatesNothing(t *testing.T) {
	for _, name := range []string{"direct", "bellcranks", "spatial"} {
		r := rigtest.Build(t, rigtest.Read(t, rigtest.Demos+name+".json"))
		spin := demoSpin(t, rigtest.Build(t, rigtest.Read(t, rigtest.Demos+"direct.json")))
		m := turning(r, spin)
		loads, state := make([]load.ServoLoad, len(r.Servos())), r.Head().Control.NewState()
		if n := testing.AllocsPerRun(20, func() {
			if err := m.ServoLoads(loads, state, swash.Demand{Collective: 0.2, Right: 0.1}); err != nil {
				t.Fatal(err)
			}
		}); n != 0 {
			t.Errorf("%s: %v allocations", name, n)
		}
	}
}

// A map of the loads over the whole volume of the sticks.
func BenchmarkLoadMap(b *testing.B) {
	r := rigtest.Build(b, rigtest.Read(b, rigtest.Demos+"direct.json"))
	m := turning(r, demoSpin(b, r))
	b.ReportAllocs()
	for b.Loop() {
		if _, _, err := m.Peaks(21); err != nil {
			b.Fatal(err)
		}
	}
}

// Even servos that give way alike under a load that pulls the plate down lower the
// blade's pitch and do not tilt the plate; one that gives way alone tilts it.
func TestYieldUnder(t *testing.T) {
	r := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), rigtest.Stepless)
	m := turning(r, load.Spin{}) // how far servos yield tells nothing of the rotor
	d := swash.Demand{Collective: 0.3}
	push := []load.ServoLoad{{Mean: 0.1}, {Mean: 0.1}, {Mean: 0.1}}
	const sag = 0.5 * units.Degree
	g, err := m.YieldUnder(push, []units.Angle{sag, sag, sag}, d)
	if err != nil {
		t.Fatal(err)
	}
	// The same by moving the arms: 1 of demand is 36°.
	state := r.Head().Control.NewState()
	before, _, err := r.Head().Blade(state, r.Gauge().Bearing, d)
	if err != nil {
		t.Fatal(err)
	}
	after, _, err := r.Head().Blade(state, r.Gauge().Bearing, swash.Demand{Collective: 0.3 - 0.5/36})
	if err != nil {
		t.Fatal(err)
	}
	if want := after - before; math.Abs(float64(g.Blade-want)) > 0.01*math.Abs(float64(want)) || g.Blade >= 0 || g.Tilt.Degrees() > 1e-9 {
		t.Errorf("%+v, want %v of pitch and no tilt", g, want)
	}
	g, err = m.YieldUnder(push, []units.Angle{sag, 0, 0}, d)
	if err != nil || g.Tilt <= 0 || math.Abs(math.Remainder(g.Low.Degrees(), 360)) > 1 {
		t.Errorf("the front alone: %+v, %v; want its side low", g, err)
	}
	g, err = m.YieldUnder(push, []units.Angle{0, sag, 0}, d)
	if err != nil || math.Abs(g.Low.Degrees()-120) > 1 {
		t.Errorf("the right rear alone: %+v, %v; want its side low", g, err)
	}
	if _, err := m.YieldUnder(push, nil, d); err == nil {
		t.Error("no sags were taken")
	}
}

// A servo whose load is rounding alone does not give way: on bell cranks the cyclic
// servos carry nothing at centred cyclic, so that the plate stays level and a radio
// step is the collective servo's.
func TestServosWithoutLoad(t *testing.T) {
	r := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"bellcranks.json"), rigtest.Stepless)
	spin := demoSpin(t, rigtest.Build(t, rigtest.Read(t, rigtest.Demos+"direct.json")))
	m := turning(r, spin)
	d, err := m.Demand()
	if err != nil {
		t.Fatal(err)
	}
	const sag = 1 * units.Degree
	demand, err := m.Setup.Setting().Demand(pitch.Stick{Collective: 1})
	if err != nil {
		t.Fatal(err)
	}
	all, err := m.YieldUnder(d.High, []units.Angle{sag, sag, sag}, demand)
	if err != nil {
		t.Fatal(err)
	}
	alone, err := m.YieldUnder(d.High, []units.Angle{sag, 0, 0}, demand)
	if err != nil {
		t.Fatal(err)
	}
	if all != alone || all.Tilt != 0 || all.Blade >= 0 {
		t.Errorf("all servos give %+v, the collective one %+v", all, alone)
	}
	rating := servo.Rating{
		Points:       []servo.RatingPoint{{Voltage: 6, Stall: 10, Speed: 10}},
		Deadband:     2 * units.PulseMicrosecond,
		FullTorqueAt: 3 * units.Degree,
		Frame:        4 * units.Millisecond,
	}
	service, err := d.Performance([]servo.Rating{rating, rating, rating}, 6)
	if err != nil {
		t.Fatal(err)
	}
	driven := r.Head().Control.Servos()[0]
	half := driven.Travel * units.Angle(1*units.PulseMicrosecond/driven.Throw)
	collective, err := m.YieldUnder(d.High, []units.Angle{units.Angle(math.Abs(float64(half))), 0, 0}, demand)
	if err != nil || math.Abs(float64(service.Deadband+collective.Blade)) > 1e-9 {
		t.Errorf("deadband %v, the collective servo's is %v (%v)", service.Deadband, -collective.Blade, err)
	}
}
