package sheet_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

func sheetOf(tb testing.TB, r *setup.Rig) *sheet.Sheet {
	tb.Helper()
	s, err := sheet.Of(r)
	if err != nil {
		tb.Fatal(err)
	}
	return s
}

// found returns the findings of one kind.
func found(s *sheet.Sheet, what sheet.Kind) []sheet.Finding {
	var all []sheet.Finding
	for _, f := range s.Findings {
		if f.Kind == what {
			all = append(all, f)
		}
	}
	return all
}

// one returns the only finding of a kind.
func one(t *testing.T, s *sheet.Sheet, what sheet.Kind) sheet.Finding {
	t.Helper()
	all := found(s, what)
	if len(all) != 1 {
		t.Fatalf("%d findings %q in %+v", len(all), what, s.Findings)
	}
	return all[0]
}

// contains reports texts that a finding's figure and advice should hold.
func contains(t *testing.T, f sheet.Finding, texts ...string) {
	t.Helper()
	for _, text := range texts {
		if !strings.Contains(f.Figure+" "+f.Do, text) {
			t.Errorf("%s: no %q in %q, %q", f.What, text, f.Figure, f.Do)
		}
	}
}

// Throttle is live above the limit and not at it, at low stick and under hold,
// but not at low stick where the mode has hold on; and the advice tells the mode
// that a model starts in from those that are selected in flight.
func TestThrottleFindings(t *testing.T) {
	const lowStick, underHold = sheet.LiveAtLowStick, sheet.LiveUnderHold
	type throttle struct {
		name      string
		low, hold units.Ratio
		held      bool
		live      sheet.Kind // "" is none
	}
	idling := func(limit units.Ratio, modes []throttle) *sheet.Sheet {
		return sheetOf(t, rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) {
			limits := machine.DefaultLimits()
			limits.LiveAbove = limit
			m.Limits = &limits
			first := m.Modes[0]
			m.Modes = nil
			for _, c := range modes {
				mode := first
				mode.Name, mode.ThrottleHold, mode.Held = c.name, c.hold, c.held
				mode.Throttle.Points = [][2]units.Ratio{{0, c.low}, {1, 0.8}}
				m.Modes = append(m.Modes, mode)
			}
		}))
	}
	for limit, modes := range map[units.Ratio][]throttle{
		0: {
			{"first", 0.05, 0, false, lowStick},
			{"second", 0.05, 0, false, lowStick},
			{"held", 0.5, 0, true, ""},
			{"under hold", 0, 0.01, false, underHold},
			{"held, live", 0, 0.1, true, underHold},
		},
		0.15: { // an engine that idles
			{"idle", 0.15, 0.15, false, ""},
			{"fast idle", 0.16, 0.15, false, lowStick},
			{"hold too high", 0.15, 0.16, false, underHold},
		},
	} {
		s := idling(limit, modes)
		for i, c := range modes {
			for _, what := range []sheet.Kind{lowStick, underHold} {
				if has(s, sheet.Stop, c.name, what) != (what == c.live) {
					t.Errorf("limit %v, mode %s: %q is found: %v", limit, c.name, what, what != c.live)
				}
			}
			for _, row := range s.Modes[i].Rows {
				want := c.low + row.Stick*(0.8-c.low)
				if c.held {
					want = c.hold
				}
				if math.Abs(float64(row.Throttle-want)) > 1e-6 {
					t.Errorf("mode %s, stick %v: throttle %v, want %v", c.name, row.Stick, row.Throttle, want)
				}
			}
		}
		for _, f := range found(s, lowStick) {
			first := f.Where == modes[0].name
			if strings.Contains(f.Do, "before the battery goes in") != first || strings.Contains(f.Do, "select it only in flight") == first {
				t.Errorf("mode %s: %q", f.Where, f.Do)
			}
			contains(t, f, fmt.Sprint(limit))
		}
	}
}

// One servo's reverse is blamed on that servo; a mixing row below zero is blamed
// on the mixing; rows that are all the wrong way are blamed on the function.
func TestWrongWayFindings(t *testing.T) {
	const servo, function = sheet.ServoReversed, sheet.ControlReversed
	row := func(m *machine.Machine, i int) *machine.MixRow { return &m.Radio.MixRows[i] }
	for _, c := range []struct {
		name    string
		edit    func(*machine.Machine)
		servos  []string
		do      string
		reverse []string // functions
	}{
		{"none", func(*machine.Machine) {}, nil, "", nil},
		{"reverse", func(m *machine.Machine) { m.Plate.Legs[2].Servo.Reverse = false }, []string{"left rear"}, "Change this servo's reverse", nil},
		{"mixing", func(m *machine.Machine) { row(m, 1).Collective = -1 }, []string{"right rear"}, "share of collective is below zero", nil},
		{"all collective", func(m *machine.Machine) {
			for i := range 3 {
				row(m, i).Collective = -1
			}
		}, []string{"front", "right rear", "left rear"}, "share of collective is below zero", []string{"collective"}},
		{"right", func(m *machine.Machine) {
			for i := range 3 {
				row(m, i).Right *= -1
			}
		}, nil, "", []string{"right cyclic"}},
		{"forward", func(m *machine.Machine) {
			for i := range 3 {
				row(m, i).Forward *= -1
			}
		}, nil, "", []string{"forward cyclic"}},
	} {
		s := sheetOf(t, rigtest.Rig(t, rigtest.Full(t), func(m *machine.Machine) { rigtest.Hover(m); c.edit(m) }))
		check := func(what sheet.Kind, where []string) {
			if n := len(found(s, what)); n != len(where) {
				t.Errorf("%s: %d of %q, want %d", c.name, n, what, len(where))
			}
			for _, w := range where {
				if !has(s, sheet.Stop, w, what) {
					t.Errorf("%s: %q is not found for %s", c.name, what, w)
				}
			}
		}
		check(servo, c.servos)
		check(function, c.reverse)
		for _, f := range found(s, servo) {
			contains(t, f, "down by 36", c.do)
			if other := "Change this servo's reverse"; c.do != other && strings.Contains(f.Do, other) {
				t.Errorf("%s: %q", c.name, f.Do)
			}
		}
	}
	// On bell cranks a servo that runs the wrong way is its function.
	s := sheetOf(t, rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"bellcranks.json"), func(m *machine.Machine) {
		rigtest.Hover(m)
		m.Plate.BellCranks.Right.Servo.Reverse = true
	}))
	contains(t, one(t, s, function), "of tilt to the right")
	if !has(s, sheet.Stop, "right cyclic", function) || len(found(s, servo)) > 0 {
		t.Errorf("bell cranks: %+v", s.Findings)
	}
}

// A head that pitches the blades against the sticks is found.
func TestSenseFindings(t *testing.T) {
	const collective, cyclic = sheet.PitchReversed, sheet.CyclicReversed
	for _, c := range []struct {
		name               string
		edit               func(*machine.Machine)
		collective, cyclic bool
	}{
		{"as it is", func(*machine.Machine) {}, false, false},
		{"trailing horn", func(m *machine.Machine) { m.Head.Horn, m.Head.Phase = pitch.Trailing, -m.Head.Phase }, true, false},
		{"trailing horn, reversed", func(m *machine.Machine) {
			m.Head.Horn, m.Head.Phase = pitch.Trailing, -m.Head.Phase
			m.Modes[0].Rates = &swash.Rates{Collective: -0.47, Right: 0.62, Forward: 0.56}
		}, false, false},
		{"counter-clockwise, phase of a clockwise rotor", func(m *machine.Machine) { m.Head.Rotation = pitch.CounterClockwise }, false, true},
		{"counter-clockwise", func(m *machine.Machine) {
			m.Head.Rotation, m.Head.Phase = pitch.CounterClockwise, -m.Head.Phase
		}, false, false},
		{"negative collective rate", func(m *machine.Machine) { m.Modes[0].Rates.Collective *= -1 }, true, false},
		{"no collective rate", func(m *machine.Machine) { m.Modes[0].Rates.Collective = 0 }, false, false},
		{"negative right rate", func(m *machine.Machine) { m.Modes[0].Rates.Right *= -1 }, false, true},
		{"negative forward rate", func(m *machine.Machine) { m.Modes[0].Rates.Forward *= -1 }, false, true},
		{"no right rate, tilting to the left", func(m *machine.Machine) {
			m.Modes[0].Rates.Right = 0
			m.Plate.Legs[1].Servo.Mount = 3 * units.Degree
		}, false, false},
		{"no cyclic rates", func(m *machine.Machine) { m.Modes[0].Rates.Right, m.Modes[0].Rates.Forward = 0, 0 }, false, false},
	} {
		s := sheetOf(t, rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) { rigtest.Hover(m); c.edit(m) }))
		if got := has(s, sheet.Stop, "hover", collective); got != c.collective {
			t.Errorf("%s: %q is found: %v", c.name, collective, got)
		}
		if got := has(s, sheet.Stop, "hover", cyclic); got != c.cyclic || len(found(s, cyclic)) > 1 {
			t.Errorf("%s: %q is found: %v", c.name, cyclic, got)
		}
	}
}

// The finding of unused travel gives the greatest use over the sticks, and names
// the smallest hole that leaves a tenth of the travel: who follows it has the same
// pitch with the travel in use.
func TestUnusedTravel(t *testing.T) {
	const what = sheet.TravelUnused
	// The hover mode with all rates times k.
	at := func(k units.Ratio, arm units.Length, holes ...units.Length) *setup.Rig {
		return rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) {
			rigtest.Straight(m)
			kind := m.Servos["bench digital"]
			kind.ArmHoles = holes
			m.Servos["bench digital"] = kind
			rates := swash.Rates{Collective: 0.3 * k, Right: 0.3 * k, Forward: 0.3 * k}
			m.Modes[0].Rates = &rates
			for i := range m.Plate.Legs {
				m.Plate.Legs[i].Upright.Arm = arm
			}
		})
	}
	// Full collective with both cyclic sticks full over asks the servo at 120° for
	// the rate times 1 + sin 120° - cos 120°, of 400 µs in the 600 µs there are.
	corner := 1 + math.Sqrt(3)/2 + 1./2
	const mm = units.Millimetre
	for _, c := range []struct {
		k     units.Ratio
		arm   units.Length
		holes []units.Length
		want  units.Length // the hole; 0 is none
	}{
		{0.8, 12 * mm, []units.Length{5 * mm, 8 * mm, 6 * mm, 10 * mm, 12 * mm, 14 * mm}, 6 * mm}, // 5.05 mm would do
		{0.8, 12 * mm, []units.Length{14 * mm, 10 * mm, 7 * mm}, 7 * mm},
		{0.8, 12 * mm, []units.Length{4 * mm, 5 * mm, 12 * mm, 14 * mm}, 0},
		{0.8, 12 * mm, nil, 0},
		{0.4, 12 * mm, []units.Length{2 * mm, 3 * mm, 4 * mm}, 3 * mm},
		{1.1, 10 * mm, []units.Length{5 * mm, 7 * mm}, 7 * mm},
	} {
		r := at(c.k, c.arm, c.holes...)
		f := one(t, sheetOf(t, r), what)
		use := 0.3 * float64(c.k) * corner * 400 / 600
		contains(t, f, fmt.Sprintf("at most %.0f %%", 100*use), "60 %")
		if c.want == 0 {
			contains(t, f, "no such hole", fmt.Sprintf("about %.1f mm in place of %.1f mm", use/0.9*c.arm.Millimetres(), c.arm.Millimetres()), "all servos")
			continue
		}
		ratio := c.arm / c.want
		contains(t, f, fmt.Sprintf("Use the %.1f mm arm hole in place of %.1f mm on all servos. Multiply the rates by %.2f.", c.want.Millimetres(), c.arm.Millimetres(), float64(ratio)),
			fmt.Sprintf("%.0f %% of the travel", 100*use*float64(ratio)))
		after := at(c.k*units.Ratio(ratio), c.want, c.holes...)
		if f := found(sheetOf(t, after), what); len(f) > 0 {
			t.Errorf("after the advice: %+v", f)
		}
		before, err := r.Modes()[0].Row(1)
		if err != nil {
			t.Fatal(err)
		}
		row, err := after.Modes()[0].Row(1)
		if err != nil {
			t.Fatal(err)
		}
		if off := float64(row.Gauge/before.Gauge) - 1; math.Abs(off) > 0.12 { // the arms' arcs
			t.Errorf("pitch at high stick is off by %.1f %% after the advice", 100*off)
		}
	}
	// The way to the nearer limit counts, from neutral with its sub-trim.
	for _, c := range []struct{ min, trim, room units.PulseWidth }{
		{920, 50, 550}, {920, -50, 550}, {1020, 0, 500}, {1020, 20, 520},
	} {
		f := one(t, sheetOf(t, rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) {
			rigtest.Straight(m)
			kind := m.Servos["bench digital"]
			kind.Min = c.min * units.PulseMicrosecond
			m.Servos["bench digital"] = kind
			m.Modes[0].Rates = &swash.Rates{Collective: 0.24, Right: 0.24, Forward: 0.24}
			for i := range m.Plate.Legs {
				m.Plate.Legs[i].Servo.SubTrim = c.trim * units.PulseMicrosecond
			}
		})), what)
		contains(t, f, fmt.Sprintf("at most %.0f %%", 100*0.24*corner*400/float64(c.room)))
	}
	// On bell cranks each servo has its own.
	s := sheetOf(t, rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"bellcranks.json"), func(m *machine.Machine) {
		rigtest.Hover(m)
		m.Modes[0].Rates = &swash.Rates{Collective: 0.3, Right: 0.45, Forward: 0.9}
	}))
	if all := found(s, what); len(all) != 2 {
		t.Errorf("bell cranks: %+v", all)
	}
	for _, f := range found(s, what) {
		switch f.Where {
		case "collective":
			contains(t, f, "at most 25 %", "11.0 mm on servo collective. Multiply the collective rate by", "Leave the other rates.") // 30 % of 380 µs, of 450 µs
		case "right":
			contains(t, f, "at most 38 %", "7.0 mm", "13.0 mm on servo right. Multiply the right cyclic rate by", "Leave the other rates.")
		}
	}
}

// A machine whose arms leave the reach of their links still has a sheet, with its
// cautions and its findings of throttle.
func TestOutOfReachHasASheet(t *testing.T) {
	wild := func(rates swash.Rates) *sheet.Sheet {
		return sheetOf(t, rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) {
			rigtest.Hover(m)
			kind := m.Servos["bench digital"]
			kind.Travel, kind.Min, kind.Max = 90*units.Degree, 920*units.PulseMicrosecond, 2120*units.PulseMicrosecond
			m.Servos["bench digital"] = kind
			m.Modes[0].Rates = &rates
			m.Modes[0].ThrottleHold = 0.1
		}))
	}
	s := wild(swash.Rates{Collective: 1.3, Right: 0.3, Forward: 0.3})
	if len(s.Cautions) < 4 || !has(s, sheet.Stop, "hover", sheet.LiveUnderHold) || s.Findings[0].Kind != sheet.LiveUnderHold {
		t.Errorf("cautions %q, findings %+v", s.Cautions, s.Findings)
	}
	reach := found(s, sheet.StickOutOfReach)
	stopped := 0
	for _, row := range s.Modes[0].Rows {
		if row.Unreachable != "" {
			stopped++
		}
	}
	if stopped == 0 || stopped == len(s.Modes[0].Rows) || len(reach) != stopped {
		t.Errorf("%d rows stopped, findings %+v", stopped, reach)
	}
	for _, f := range reach {
		if f.Severity != sheet.Stop || f.Where != "hover" {
			t.Errorf("%+v", f)
		}
	}
	if len(found(s, sheet.PitchReversed)) > 0 {
		t.Error("ends that are not reached are compared")
	}

	s = wild(swash.Rates{Collective: 0.1, Right: 1.4, Forward: 1.4})
	f := one(t, s, sheet.CornersOutOfReach)
	stopped = 0
	for _, c := range s.Modes[0].Corners {
		if c.Unreachable != "" {
			stopped++
			contains(t, f, c.Stick+" ("+c.Unreachable+")")
		}
	}
	contains(t, f, fmt.Sprintf("%d of 16 corners: ", stopped))
	if f.Severity != sheet.Fix || f.Where != "hover" || stopped == 0 || len(found(s, sheet.StickOutOfReach)) > 0 {
		t.Errorf("%d corners stopped: %+v", stopped, s.Findings)
	}
}

// Findings of one mode's rates and readings, with their figures; each limit holds
// exactly.
func TestModeFindings(t *testing.T) {
	rates := func(c, r, f units.Ratio) func(*machine.Machine) {
		return func(m *machine.Machine) {
			rigtest.Straight(m)
			m.Modes[0].Rates = &swash.Rates{Collective: c, Right: r, Forward: f}
		}
	}
	limit := func(l units.Ratio, edit func(*machine.Machine)) func(*machine.Machine) {
		return func(m *machine.Machine) { m.Radio.RateLimit = &l; edit(m) }
	}
	target := func(pitch, cyclic units.Angle) func(*machine.Machine) {
		return func(m *machine.Machine) {
			t := *m.Modes[1].Targets
			t.Collective = append([]machine.Target(nil), t.Collective...)
			t.Collective[2].Pitch, t.Cyclic = pitch, cyclic
			m.Modes[1].Targets = &t
			m.Modes = m.Modes[1:2]
		}
	}
	coarse := func(m *machine.Machine) { target(10*units.Degree, 6*units.Degree)(m); m.Radio.PercentStep = 0.25 }
	to10 := func(pitch units.Angle) func(*machine.Machine) {
		// A gauge from -10° to +10° is common practice, no source.
		return func(m *machine.Machine) {
			target(pitch, 6*units.Degree)(m)
			m.Modes[0].Targets.Collective[0].Pitch = -9 * units.Degree
			m.Gauge.Low, m.Gauge.High, m.Gauge.Step = -10*units.Degree, 10*units.Degree, 0.5*units.Degree
		}
	}
	own := func(cyclic units.Angle) func(*machine.Machine) {
		return func(m *machine.Machine) {
			t := *m.Modes[1].Targets
			t.Collective, t.Cyclic = []machine.Target{{Stick: 0.5, Pitch: 5 * units.Degree}, {Stick: 1, Pitch: 9.5 * units.Degree}}, cyclic
			m.Modes[0].Targets = &t
		}
	}
	const scale, rate, clip, horn, missed = sheet.TargetOffScale, sheet.RateTooHigh,
		sheet.LimitUnderCollective, sheet.HornNearDeadCentre, sheet.TargetMissed
	for _, c := range []struct {
		name     string
		edit     func(*machine.Machine)
		what     sheet.Kind
		severity sheet.Severity
		count    int // of findings; 0 is none
		contains []string
	}{
		{"half a step beyond", to10(10.24 * units.Degree), scale, sheet.Note, 0, nil},
		{"more than half a step", to10(10.26 * units.Degree), scale, sheet.Note, 1, []string{"10.26° wanted at stick 100 %", "-10° to 10°"}},
		{"rates at the limit", rates(1, 1, -1), rate, sheet.Fix, 0, nil},
		{"collective", rates(1.01, 1, 1), rate, sheet.Fix, 1, []string{"collective rate 101 % (our limit 100 %; the radio's manual decides)"}},
		{"right", rates(1, 1.01, 1), rate, sheet.Fix, 1, []string{"right cyclic rate 101 %"}},
		{"forward, below zero", rates(1, 1, -1.01), rate, sheet.Fix, 1, []string{"forward cyclic rate -101 %"}},
		{"own limit", limit(1.25, rates(1.25, 0.5, 0.5)), rate, sheet.Fix, 0, nil},
		{"beyond the own limit", limit(1.25, rates(1.26, 0.5, 0.5)), rate, sheet.Fix, 1, []string{"collective rate 126 % (the radio's limit 125 %)"}},
		{"to the pulse limit", rates(1.5, 0.3, 0.3), clip, sheet.Fix, 0, nil},
		{"beyond it", rates(1.6, 0.3, 0.3), clip, sheet.Fix, 2, []string{"would need 40 µs beyond its pulse limit, at stick"}}, // 160 % of 400 µs, of 600 µs
		{"square", func(*machine.Machine) {}, horn, sheet.Fix, 0, nil},
		{"horn", func(m *machine.Machine) {
			l := machine.DefaultLimits()
			l.DeadCentre = 70 * units.Degree
			m.Limits = &l
		}, horn, sheet.Fix, 1, []string{"pitch link's lever is ", "less than the 94.0 % that the limit asks for (limit 70°), in ", "mode \"hover\", stick "}},
		{"fine steps", target(10*units.Degree, 6*units.Degree), missed, sheet.Fix, 0, nil},
		{"coarse steps", coarse, missed, sheet.Fix, 4, []string{"too coarse"}},
		{"own rates", own(8.5 * units.Degree), missed, sheet.Fix, 2, []string{"cyclic pitch is", "at full", "wanted 8.50°", "that the sheet gives"}},
	} {
		s := sheetOf(t, rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) {
			c.edit(m)
			rigtest.Hover(m)
		}))
		all := found(s, c.what)
		if len(all) != c.count {
			t.Errorf("%s: %d of %q: %+v", c.name, len(all), c.what, all)
		}
		for _, f := range all {
			contains(t, f, c.contains...)
			if f.Severity != c.severity || f.Mode == "" && c.what != horn {
				t.Errorf("%s: %+v", c.name, f)
			}
		}
	}
}

// A row is off the scale where the gauge, read to half a step, does not show it.
func TestOffScale(t *testing.T) {
	s := sheetOf(t, rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), rigtest.Hover))
	rows := s.Modes[0].Rows
	low, high := rows[0].Gauge, rows[len(rows)-1].Gauge
	const near = 0.01 * units.Degree
	half := rigtest.Parse(t, rigtest.Read(t, rigtest.Demos+"direct.json")).Gauge.Step / 2
	for _, c := range []struct {
		low, high       units.Angle // of the scale, over the readings at the ends
		offLow, offHigh bool
	}{
		{near, -near, false, false},
		{half - near, -half + near, false, false},
		{half + near, 0, true, false},
		{0, -half - near, false, true},
	} {
		s := sheetOf(t, rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) {
			rigtest.Hover(m)
			m.Gauge.Low, m.Gauge.High = low+c.low, high+c.high
		}))
		rows := s.Modes[0].Rows
		if rows[0].OffScale != c.offLow || rows[len(rows)-1].OffScale != c.offHigh || rows[len(rows)/2].OffScale {
			t.Errorf("%v and %v beyond the scale: %v and %v", c.low, c.high, rows[0].OffScale, rows[len(rows)-1].OffScale)
		}
	}
}

// A square arm whose link runs 20° out of its plane has a lever of 94 %, cos 20°, and no
// angle of 70° to its link: the finding tells the lever, whichever way it was lost.
func TestLeverOutOfPlane(t *testing.T) {
	const out, length = 20 * units.Degree, 55 * units.Millimetre
	s := sheetOf(t, rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) {
		rigtest.Hover(m)
		m.Modes[0].Rates = &swash.Rates{Collective: 0.01, Right: 0.01, Forward: 0.01} // stay square
		l := machine.DefaultLimits()
		l.DeadCentre = 75 * units.Degree
		m.Limits = &l
		front := &m.Plate.Legs[0]
		u := *front.Upright
		front.Upright = nil
		front.Spatial = &machine.Spatial{
			Bearing: u.Bearing, BallRadius: u.BallRadius, Offset: u.Offset, Arm: u.Arm, Link: length,
			Axis: linkage.Direction{X: 1}, Neutral: linkage.Direction{Y: 1},
			Shaft: linkage.Point{
				X: -length * units.Length(math.Sin(out.Radians())),
				Y: u.BallRadius - u.Arm,
				Z: m.Plate.NeutralHeight + u.Offset - length*units.Length(math.Cos(out.Radians())),
			},
		}
	}))
	f := one(t, s, sheet.ArmNearDeadCentre)
	contains(t, f, "the link's lever is 94.0 % of the arm's length", "less than the 96.6 % that the limit asks for (limit 75°)")
	if f.Where != "front" || strings.Contains(f.Figure, "70") || strings.Contains(f.Figure, "one line") {
		t.Errorf("%+v", f)
	}
}

func sheetFor(tb testing.TB, data []byte) *sheet.Sheet {
	tb.Helper()
	s, err := sheet.Of(rigtest.Build(tb, data))
	if err != nil {
		tb.Fatal(err)
	}
	return s
}
