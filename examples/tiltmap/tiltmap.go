package main

import (
	"fmt"
	"slices"
	"strings"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// changes are the factors for the end points and for the rate.
var changes = [...]units.Ratio{0.8, 0.9, 1, 1.1, 1.2}

// tiltMap is the machine over the collective stick, in its first flight mode that works. It
// has the rows for each change of one servo's end points, and for each change of the rate.
type tiltMap struct {
	rig  *setup.Rig
	mode *setup.RigMode
	leg  int
	ends [len(changes)][]setup.Row
	rate [len(changes)][]setup.Row
}

// newTiltMap works the map out for the servo of the given name. If the name is empty, it is
// the first servo.
func newTiltMap(rig *setup.Rig, name string) (*tiltMap, error) {
	m := &tiltMap{rig: rig, mode: show.Working(rig)}
	if m.mode == nil {
		return nil, fmt.Errorf("no flight mode can be worked out: %w", rig.Modes[0].Unmet)
	}
	if name != "" {
		if m.leg = slices.IndexFunc(rig.Servos, func(s setup.RigServo) bool { return s.Name == name }); m.leg < 0 {
			var names []string
			for _, l := range rig.Servos {
				names = append(names, fmt.Sprintf("%q", l.Name))
			}
			return nil, fmt.Errorf("there is no servo %q; the machine has %s", name, strings.Join(names, ", "))
		}
	}
	plain, err := withEndPoints(rig, m.leg, 1)
	if err != nil {
		return nil, err
	}
	for i, by := range changes {
		changed, err := withEndPoints(rig, m.leg, by)
		if err != nil {
			return nil, err
		}
		if m.ends[i], err = sweep(changed, *m.mode); err != nil {
			return nil, fmt.Errorf("end points at %v: %w", by, err)
		}
		mode := *m.mode
		mode.Setting.Rates.Collective *= by
		if m.rate[i], err = sweep(plain, mode); err != nil {
			return nil, fmt.Errorf("collective rate at %v: %w", by, err)
		}
	}
	return m, nil
}

// withEndPoints returns the rig with both end points of one servo multiplied by a factor. It
// leaves the radio's pulse steps out, which would blur the comparison.
func withEndPoints(rig *setup.Rig, leg int, by units.Ratio) (*setup.Rig, error) {
	control := rig.Head.Control
	for i, servo := range control.Servos() {
		servo.Step = 0
		if i == leg {
			servo.Low *= by
			servo.High *= by
		}
		var err error
		if control, err = control.WithServo(i, servo); err != nil {
			return nil, err
		}
	}
	changed := *rig
	changed.Head = &pitch.Head{Control: control, Grip: rig.Head.Grip}
	return &changed, nil
}

// The stick positions: all are drawn, and those at each quarter are in the tables.
const (
	steps   = 40
	quarter = steps / 4
)

// sweep works out a mode over the stick.
func sweep(rig *setup.Rig, mode setup.RigMode) ([]setup.Row, error) {
	rows := make([]setup.Row, steps+1)
	for k := range rows {
		var err error
		if rows[k], err = rig.Row(&mode, float64(k)/steps); err != nil {
			return nil, err
		}
	}
	return rows, nil
}
