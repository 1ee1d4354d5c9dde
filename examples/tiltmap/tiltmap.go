package main

import (
	"fmt"
	"slices"
	"strings"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// changes are the factors for the end points and for the rate.
var changes = [...]units.Ratio{0.8, 0.9, 1, 1.1, 1.2}

// tiltMap is the machine over the collective stick, in its first flight mode that works. It
// has the rows for each change of one servo's end points, and for each change of the rate.
type tiltMap struct {
	rig  *setup.Rig
	mode setup.Setup
	leg  int
	ends [len(changes)][]setup.Row
	rate [len(changes)][]setup.Row
}

// newTiltMap works the map out for the servo of the given name. If the name is empty, it is
// the first servo.
func newTiltMap(rig *setup.Rig, name string) (*tiltMap, error) {
	mode, ok := show.Working(rig)
	m := &tiltMap{rig: rig, mode: mode}
	if !ok {
		return nil, fmt.Errorf("no flight mode can be worked out: %w", rig.Modes()[0].Unmet())
	}
	if name != "" {
		if m.leg = slices.IndexFunc(rig.Servos(), func(s setup.Servo) bool { return s.Name == name }); m.leg < 0 {
			var names []string
			for _, l := range rig.Servos() {
				names = append(names, fmt.Sprintf("%q", l.Name))
			}
			return nil, fmt.Errorf("there is no servo %q; the machine has %s", name, strings.Join(names, ", "))
		}
	}
	plain, err := withEndPoints(rig, m.leg, 1)
	if err != nil {
		return nil, err
	}
	in := func(rig *setup.Rig) setup.Setup {
		m, _ := rig.Mode(mode.Name())
		return m
	}
	for i, by := range changes {
		changed, err := withEndPoints(rig, m.leg, by)
		if err != nil {
			return nil, err
		}
		if m.ends[i], err = sweep(in(changed)); err != nil {
			return nil, fmt.Errorf("end points at %v: %w", by, err)
		}
		setting := mode.Setting()
		setting.Rates.Collective *= by
		if m.rate[i], err = sweep(in(plain).Enter(setting)); err != nil {
			return nil, fmt.Errorf("collective rate at %v: %w", by, err)
		}
	}
	return m, nil
}

// withEndPoints returns the rig with both end points of one servo multiplied by a factor. It
// leaves the radio's pulse steps out, which would blur the comparison.
func withEndPoints(rig *setup.Rig, leg int, by units.Ratio) (*setup.Rig, error) {
	parts := rig.Parts()
	for i := range parts.Servos {
		servo := &parts.Servos[i]
		servo.Step = 0
		if i == leg {
			servo.Low *= by
			servo.High *= by
		}
	}
	return rig.Refit(parts)
}

// The stick positions: all are drawn, and those at each quarter are in the tables.
const (
	steps   = 40
	quarter = steps / 4
)

// sweep works out a mode over the stick.
func sweep(mode setup.Setup) ([]setup.Row, error) {
	rows := make([]setup.Row, steps+1)
	for k := range rows {
		var err error
		if rows[k], err = mode.Row(float64(k) / steps); err != nil {
			return nil, err
		}
	}
	return rows, nil
}
