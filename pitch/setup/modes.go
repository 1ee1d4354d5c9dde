package setup

import (
	"errors"
	"fmt"
	"math"

	"example.org/levelhead/curve"
	"example.org/levelhead/pitch"
	"example.org/levelhead/units"
)

// RigMode is a flight mode built and ready.
type RigMode struct {
	Mode *Mode
	// Setting is the mode's own pitch curve and rates, or else what one must enter to
	// meet its targets.
	Setting  pitch.Setting
	Throttle *curve.Curve
	// Solved is what meets the mode's targets; nil where it has none.
	Solved *Solution
	// Unmet is why the mode's targets cannot be met: a *FieldError, around a
	// *TargetError where a target is out of reach. The mode's own pitch curve and rates then stand in; where
	// it has none, it cannot be worked out.
	Unmet error
}

// unmet says in words why the targets cannot be met.
func (m *RigMode) unmet() string {
	var target *TargetError
	var field *FieldError
	switch {
	case errors.As(m.Unmet, &target):
		return target.Error()
	case errors.As(m.Unmet, &field):
		return field.Reason
	}
	return ""
}

// Works reports whether the mode has a pitch curve and rates to work with, given
// or solved.
func (m *RigMode) Works() bool { return m.Setting.Pitch != nil }

func modePath(i int) string { return fmt.Sprintf("modes[%d]", i) }

func (m *Machine) curve(path string, c Curve, low units.Ratio) (*curve.Curve, error) {
	points := make([]curve.Point, len(c.Points))
	for i, p := range c.Points {
		if !(p[0] >= 0 && p[0] <= 1) {
			return nil, m.fail(fmt.Sprintf("%s.points[%d][0]", path, i), "stick must be within 0 %% and 100 %%, not %v", p[0])
		}
		if !(p[1] >= low && p[1] <= 1) {
			return nil, m.fail(fmt.Sprintf("%s.points[%d][1]", path, i), "must be within %v and 100 %%, not %v", low, p[1])
		}
		points[i] = curve.Point{X: float64(p[0]), Y: float64(p[1])}
	}
	built, err := curve.New(c.Kind, points)
	if err != nil {
		return nil, m.blame(path, err)
	}
	return built, m.checkRange(path+".kind", built, float64(low))
}

// samples is how finely a curve is looked at between its points.
const samples = 400

// extreme returns the largest amount of a curve's value over the stick.
func extreme(c *curve.Curve) float64 {
	var most float64
	for i := range samples + 1 {
		most = math.Max(most, math.Abs(c.At(float64(i)/samples)))
	}
	return most
}

// checkRange refuses a curve that runs out of its range between its points, which
// a radio would cut off.
func (m *Machine) checkRange(path string, c *curve.Curve, low float64) error {
	const rounding = 1e-9
	for i := range samples + 1 {
		stick := float64(i) / samples
		if y := c.At(stick); y < low-rounding || y > 1+rounding {
			return m.fail(path, "must keep the curve within %.0f %% and 100 %%, but kind %v runs to %.1f %% at stick %.0f %%; write %q, which stays within",
				100*low, c.Kind(), 100*y, 100*stick, curve.Monotone)
		}
	}
	return nil
}

func (r *Rig) buildModes() error {
	m := r.Machine
	if len(m.Modes) == 0 {
		return m.fail("modes", "must have one mode or more")
	}
	seen := map[string]bool{}
	for i := range m.Modes {
		path := modePath(i)
		if name := m.Modes[i].Name; seen[name] {
			return m.fail(path+".name", "%q is the name of another mode; give each mode its own", name)
		}
		seen[m.Modes[i].Name] = true
		mode, err := r.buildMode(path, &m.Modes[i])
		if err != nil {
			return err
		}
		r.Modes = append(r.Modes, mode)
	}
	return nil
}

func (r *Rig) buildMode(path string, mode *Mode) (RigMode, error) {
	m := r.Machine
	built := RigMode{Mode: mode}
	var err error
	if built.Throttle, err = m.curve(path+".throttle", mode.Throttle, 0); err != nil {
		return built, err
	}
	if err := r.checkSpeed(path, mode); err != nil {
		return built, err
	}
	if h := mode.ThrottleHold; !(h >= 0 && h <= 1) {
		return built, m.fail(path+".throttle_hold", "must be within 0 %% and 100 %%, not %v", h)
	}
	built.Setting.Expo = curve.Expo(mode.Expo)
	if err := built.Setting.Expo.Validate(); err != nil {
		return built, m.blame(path+".expo", err)
	}
	if mode.Pitch != nil {
		if built.Setting.Pitch, err = m.curve(path+".pitch", *mode.Pitch, -1); err != nil {
			return built, err
		}
	}
	if mode.Rates != nil {
		if err := mode.Rates.Validate(); err != nil {
			return built, m.blame(path+".rates", err)
		}
		built.Setting.Rates = *mode.Rates
	}
	if (mode.Pitch == nil) != (mode.Rates == nil) {
		return built, m.fail(path, "has only one of pitch and rates; give both, or give targets in place of both")
	}
	if mode.Targets == nil {
		if mode.Pitch == nil {
			return built, m.fail(path, "has no pitch and rates; give both, or give targets to solve them from")
		}
		return built, nil
	}
	if err := r.validTargets(path+".targets", mode.Targets); err != nil {
		return built, err
	}
	if built.Solved, built.Unmet = r.solve(path+".targets", mode); built.Unmet == nil && mode.Pitch == nil {
		built.Setting = built.Solved.Entered
	}
	return built, nil
}
