package setup

import (
	"fmt"

	"example.org/levelhead/curve"
	"example.org/levelhead/pitch/internal/fieldpath"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/units"
)

func curveOf(m *machine.Machine, path string, c machine.Curve, low units.Ratio) (*curve.Curve, error) {
	points := make([]curve.Point, len(c.Points))
	for i, p := range c.Points {
		if !(p[0] >= 0 && p[0] <= 1) {
			return nil, fail(m, fmt.Sprintf("%s.points[%d][0]", path, i), "stick must be within 0 %% and 100 %%, not %v", p[0])
		}
		if !(p[1] >= low && p[1] <= 1) {
			return nil, fail(m, fmt.Sprintf("%s.points[%d][1]", path, i), "must be within %v and 100 %%, not %v", low, p[1])
		}
		points[i] = curve.Point{X: float64(p[0]), Y: float64(p[1])}
	}
	built, err := curve.New(c.Kind, points)
	if err != nil {
		return nil, blame(m, path, err)
	}
	return built, checkRange(m, path+".kind", built, float64(low))
}

// samples is how finely a curve is looked at between its points.
const samples = 400

// checkRange refuses a curve that runs out of its range between its points, which
// a radio would cut off.
func checkRange(m *machine.Machine, path string, c *curve.Curve, low float64) error {
	const rounding = 1e-9
	for i := range samples + 1 {
		stick := float64(i) / samples
		if y := c.At(stick); y < low-rounding || y > 1+rounding {
			return fail(m, path, "must keep the curve within %.0f %% and 100 %%, but kind %v runs to %.1f %% at stick %.0f %%; write %q, which stays within",
				100*low, c.Kind(), 100*y, 100*stick, curve.Monotone)
		}
	}
	return nil
}

func (r *Rig) buildModes() error {
	m := r.file
	if len(m.Modes) == 0 {
		return fail(m, "modes", "must have one mode or more")
	}
	seen := map[string]bool{}
	for i := range m.Modes {
		path := fieldpath.Mode(i)
		if name := m.Modes[i].Name; seen[name] {
			return fail(m, path+".name", "%q is the name of another mode; give each mode its own", name)
		}
		seen[m.Modes[i].Name] = true
		mode, err := r.buildMode(path, &m.Modes[i])
		if err != nil {
			return err
		}
		r.modes = append(r.modes, mode)
	}
	return nil
}

func (r *Rig) buildMode(path string, file *machine.Mode) (mode, error) {
	m := r.file
	built := mode{file: *file}
	var err error
	if built.throttle, err = curveOf(m, path+".throttle", file.Throttle, 0); err != nil {
		return built, err
	}
	if err := r.checkSpeed(path, file); err != nil {
		return built, err
	}
	if h := file.ThrottleHold; !(h >= 0 && h <= 1) {
		return built, fail(m, path+".throttle_hold", "must be within 0 %% and 100 %%, not %v", h)
	}
	built.setting.Expo = curve.Expo(file.Expo)
	if err := built.setting.Expo.Validate(); err != nil {
		return built, blame(m, path+".expo", err)
	}
	if file.Pitch != nil {
		if built.setting.Pitch, err = curveOf(m, path+".pitch", *file.Pitch, -1); err != nil {
			return built, err
		}
	}
	if file.Rates != nil {
		if err := file.Rates.Validate(); err != nil {
			return built, blame(m, path+".rates", err)
		}
		built.setting.Rates = *file.Rates
	}
	if (file.Pitch == nil) != (file.Rates == nil) {
		return built, fail(m, path, "has only one of pitch and rates; give both, or give targets in place of both")
	}
	if file.Targets == nil {
		if file.Pitch == nil {
			return built, fail(m, path, "has no pitch and rates; give both, or give targets to solve them from")
		}
		return built, nil
	}
	if err := r.validTargets(path+".targets", file.Targets); err != nil {
		return built, err
	}
	if built.solved, built.unmet = r.solve(path+".targets", file); built.unmet == nil && file.Pitch == nil {
		built.setting = built.solved.Entered
	}
	return built, nil
}
