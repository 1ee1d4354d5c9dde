package main

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/plotter"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/gauge"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// svg draws blade pitch over the collective stick in the mode that was read most: as the
// readings have it on the left, and how far off that is, now and once all steps are done,
// on the right.
func (f *findings) svg() (string, error) {
	mode := f.mostRead()
	if mode == nil {
		return "", fmt.Errorf("no flight mode can be worked out: there is nothing to draw")
	}
	name := mode.Mode.Name
	file, err := f.Fit(nil)
	if err != nil {
		return "", err
	}
	wanted, err := f.line(file, "wanted", gauge.Point{Mode: name})
	if err != nil {
		return "", err
	}
	wanted.Band = nil
	is := &show.Panel{Title: "Mode " + name + ": as fitted, with the readings", Y: "blade pitch, degrees", KeyRows: 2}
	off := &show.Panel{Title: "Off from what is wanted, now and after the steps", Y: "degrees", KeyRows: 2}
	var after []show.Series
	for blade := range f.blades {
		s, err := f.line(f.result, fmt.Sprintf("blade %d", blade+1), gauge.Point{Blade: blade, Mode: name})
		if err != nil {
			return "", err
		}
		s.Marks = f.marks(blade, name)
		is.Series = append(is.Series, s)
		off.Series = append(off.Series, less(s, wanted))
		after = append(after, f.expected(blade, name))
	}
	is.Series, off.Series = append(is.Series, wanted), append(off.Series, after...)
	const width, height = 340, 330
	return show.SVG(width, height, []string{show.Caution(setup.WithBlades, f.rig.Machine)}, "Blade pitch over the collective stick as fitted, with the readings, on the left; how far it is off from what is wanted, now and after the steps, on the right. The tables give the figures.", is, off)
}

// less returns a series less what is wanted, without its marks.
func less(s, wanted show.Series) show.Series {
	line := make(plotter.XYs, len(s.Line))
	for i, p := range s.Line {
		line[i] = plotter.XY{X: p.X, Y: p.Y - wanted.Line[i].Y}
	}
	return show.Series{Name: s.Name + " now", Line: line, Band: s.Band}
}

// mostRead returns the mode in which most readings were taken, or else the first that works.
func (f *findings) mostRead() *setup.RigMode {
	most, count := show.Working(f.rig), 0
	for i := range f.rig.Modes {
		n := 0
		for _, r := range f.readings {
			if r.Mode == f.rig.Modes[i].Mode.Name {
				n++
			}
		}
		if n > count {
			most, count = &f.rig.Modes[i], n
		}
	}
	return most
}

// line is a blade's pitch over the collective stick, with its 95 % band.
func (f *findings) line(r *gauge.Result, name string, spot gauge.Point) (show.Series, error) {
	s := show.Series{Name: name}
	const points = 50
	for i := range points + 1 {
		spot.Stick = pitch.Stick{Collective: float64(i) / points}
		p, err := r.Predict(spot)
		if err != nil {
			return s, err
		}
		s.Line = append(s.Line, plotter.XY{X: 100 * spot.Stick.Collective, Y: p.Value.Degrees()})
		s.Band = append(s.Band, sure*p.Sigma.Degrees())
	}
	return s, nil
}

// marks are the readings of a blade over the collective stick, less what the gauge's zero
// is likely off by.
func (f *findings) marks(blade int, mode string) plotter.XYs {
	var zero units.Angle
	for _, e := range f.result.Parameters {
		if e.Parameter == (gauge.Parameter{Kind: gauge.GaugeZero}) {
			zero = units.Angle(e.Off)
		}
	}
	var marks plotter.XYs
	for i := range f.readings {
		r := &f.readings[i]
		atGauge := r.Bearing == nil || *r.Bearing == f.rig.Machine.Gauge.Bearing
		if r.Of == gauge.BladePitch && r.Blade == blade && r.Mode == mode && atGauge && r.Stick.Right == 0 && r.Stick.Forward == 0 {
			marks = append(marks, plotter.XY{X: 100 * r.Stick.Collective, Y: (r.Value - zero).Degrees()})
		}
	}
	return marks
}

// expected is how far a blade is off at the collective sticks of a mode once all steps are
// done, each with its 95 % interval. Blades stand a little apart so that all show.
func (f *findings) expected(blade int, mode string) show.Series {
	s := show.Series{Name: fmt.Sprintf("blade %d after", blade+1)}
	const apart = 1.5
	for i := range f.fix.After {
		c := &f.fix.After[i]
		if c.Mode != mode || c.Blade != blade || c.Stick.Right != 0 || c.Stick.Forward != 0 {
			continue
		}
		x := 100*c.Stick.Collective + apart*(float64(blade)-float64(f.blades-1)/2)
		s.Marks = append(s.Marks, plotter.XY{X: math.Max(0, math.Min(100, x)), Y: c.Off().Degrees()})
		s.Bars = append(s.Bars, sure*c.Pitch.Sigma.Degrees())
	}
	return s
}
