package gauge

import (
	"fmt"
	"math"
	"slices"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// goal is a pitch that is wanted of a blade somewhere.
type goal struct {
	at     string // the sticks and the blade, in words
	wanted units.Angle
	place  place // its mode is -1 for collective and cyclic at zero
}

// collectiveSticks returns where a mode's pitch over the collective stick is looked at: at
// its targets, or the ends and the middle where it has none to meet, and at the points of
// its curve, which are what can be changed.
func collectiveSticks(m setup.Setup) []units.Ratio {
	sticks := []units.Ratio{0, 0.5, 1}
	if t := m.Mode().Targets; t != nil && m.Unmet() == nil {
		sticks = sticks[:0]
		for _, target := range t.Collective {
			sticks = append(sticks, target.Stick)
		}
	}
	for _, p := range m.Setting().Pitch.Points() {
		sticks = append(sticks, units.Ratio(p.X))
	}
	slices.Sort(sticks)
	return slices.Compact(sticks)
}

// aim sets the goals of all modes that work. What the radio sends there is for send to work
// out.
func (w *work) aim() error {
	for i, m := range w.set.Modes() {
		if !m.Works() {
			continue
		}
		bearing := w.set.Gauge().Bearing
		for _, stick := range collectiveSticks(m) {
			at := fmt.Sprintf("collective stick at %v", stick)
			if err := w.aimAt(i, at, pitch.Stick{Collective: float64(stick)}, bearing); err != nil {
				return err
			}
		}
		for _, full := range pitch.FullCyclic() {
			bearing, err := w.mostPitch(i, full)
			if err != nil {
				return err
			}
			at := fmt.Sprintf("%s cyclic, blade %s", full.Cyclic(), Direction(bearing))
			if err := w.aimAt(i, at, full, bearing); err != nil {
				return err
			}
		}
	}
	return nil
}

// aimAt adds the goals of all blades at one position of the sticks.
func (w *work) aimAt(mode int, at string, stick pitch.Stick, bearing units.Angle) error {
	wanted := w.wanted.Modes()[mode]
	demand, err := wanted.Setting().Demand(stick)
	if err != nil {
		return err
	}
	head := w.wanted.Head()
	want, _, err := head.Blade(head.Control.NewState(), bearing, demand)
	if err != nil {
		return err
	}
	for blade := range w.session.model.blades {
		w.goals = append(w.goals, goal{
			at: at, wanted: want,
			place: place{mode: mode, stick: stick, sight: sight{of: BladePitch, blade: blade, bearing: bearing}},
		})
	}
	return nil
}

// send works out what the radio, as it is set, sends at the goals: one stick after the
// other, all blades alike.
func (w *work) send() error {
	var at position
	for i := range w.goals {
		p := &w.goals[i].place
		if p.sight.blade == 0 {
			var err error
			if at, err = positionOf(w.set.Head().Control, w.set.Modes()[p.mode], p.stick); err != nil {
				return err
			}
		}
		p.at = at
	}
	return nil
}

// mostPitch returns the bearing at which a blade has most pitch, in whole degrees.
func (w *work) mostPitch(mode int, stick pitch.Stick) (units.Angle, error) {
	demand, err := w.wanted.Modes()[mode].Setting().Demand(stick)
	if err != nil {
		return 0, err
	}
	head := w.wanted.Head()
	pose, err := head.Control.Pose(head.Control.NewState(), demand)
	if err != nil {
		return 0, err
	}
	rev, err := head.Grip.Revolution(pose)
	return units.Round(rev.Phase(), 0), err
}

// ofMode returns the goals of a mode.
func (w *work) ofMode(mode int) []goal {
	var goals []goal
	for _, g := range w.goals {
		if g.place.mode == mode {
			goals = append(goals, g)
		}
	}
	return goals
}

// atZero returns the goals of all blades with collective and cyclic at zero, where the plate
// must be level.
func (w *work) atZero() ([]goal, error) {
	head := w.wanted.Head()
	bearing := w.set.Gauge().Bearing
	want, _, err := head.Blade(head.Control.NewState(), bearing, swash.Demand{})
	if err != nil {
		return nil, err
	}
	goals := make([]goal, w.session.model.blades)
	for blade := range goals {
		goals[blade] = goal{at: "collective and cyclic at zero", wanted: want, place: w.zero(sight{of: BladePitch, blade: blade, bearing: bearing})}
	}
	return goals, nil
}

// offAtZero returns by how much each blade's pitch is more than what is wanted, collective
// and cyclic at zero. Where the plate is known to tilt, it counts as level, as it will be:
// the blades swing about what they have then.
func (w *work) offAtZero() (off []look, level bool, err error) {
	goals, err := w.atZero()
	if err != nil {
		return nil, false, err
	}
	if off, err = w.seeGoals(goals); err != nil {
		return nil, false, err
	}
	right, forward, err := w.tilt()
	if err != nil {
		return nil, false, err
	}
	tilt := math.Hypot(right.value, forward.value)
	level = w.worthwhile(tilt, 0, w.leastTilt(), w.tiltSigma(right, forward))
	for i := range off {
		off[i].value -= float64(goals[i].wanted)
		if !level {
			continue
		}
		e, err := w.fit.build.grips[i].Effect(goals[i].place.sight.bearing, w.fit.build.pose)
		if err != nil {
			return nil, false, err
		}
		off[i].value -= e.PerPose.Right*right.value + e.PerPose.Forward*forward.value
		off[i].slope.AddScaledVec(off[i].slope, -e.PerPose.Right, right.slope)
		off[i].slope.AddScaledVec(off[i].slope, -e.PerPose.Forward, forward.slope)
	}
	return off, level, nil
}

// zero returns the place of a quantity with collective and cyclic at zero.
func (w *work) zero(s sight) place { return place{mode: -1, at: zeroPosition(w.set), sight: s} }

// zeroPosition is what the radio sends with collective and cyclic at zero.
func zeroPosition(rig *setup.Rig) position {
	servos := rig.Head().Control.Servos()
	at := make(position, len(servos))
	for i := range servos {
		at[i] = sentBy(&servos[i], 0)
	}
	return at
}

// checks looks at goals on the build as it now is.
func (w *work) checks(goals []goal) ([]Check, error) {
	looks, err := w.seeGoals(goals)
	if err != nil {
		return nil, err
	}
	checks := make([]Check, len(goals))
	for i, g := range goals {
		checks[i] = Check{
			Where: g.at, At: g.at, Stick: g.place.stick, Bearing: g.place.sight.bearing, Blade: g.place.sight.blade, Wanted: g.wanted,
			Pitch: w.fit.prediction(looks[i].value, looks[i].slope),
			Reads: w.reads(looks[i]),
		}
		if g.place.mode >= 0 {
			checks[i].Mode = w.set.Modes()[g.place.mode].Name()
			checks[i].Where = fmt.Sprintf("mode %q, %s", checks[i].Mode, g.at)
		}
	}
	return checks, nil
}
