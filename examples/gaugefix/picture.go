package main

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/plot/plotter"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/gauge"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// svg draws blade pitch over the collective stick in the mode that was read most: as
// calculated from the readings, and how far from the wanted pitch that is, now and once all
// steps are done.
func (f *findings) svg() (string, error) {
	mode, ok := f.mostRead()
	if !ok {
		return "", fmt.Errorf("no flight mode can be worked out: there is nothing to draw")
	}
	name := mode.Name()
	file, err := f.Fit(nil)
	if err != nil {
		return "", err
	}
	wanted, err := f.line(file, "wanted", gauge.Point{Mode: name})
	if err != nil {
		return "", err
	}
	wanted.Band = nil
	is := &show.Panel{Title: fmt.Sprintf("Mode %q: calculated pitch of each blade, with the readings", name), Y: "blade pitch", Unit: "degrees",
		Note: "The hatched range is right in 19 of 20 cases."}
	now := &show.Panel{Title: "Now: how far each blade is from the wanted pitch", Y: "pitch minus wanted pitch", Unit: "degrees", Note: is.Note}
	after := &show.Panel{Title: "After the steps: how far each blade should be from the wanted pitch", Y: now.Y, Unit: now.Unit,
		Note: "The upright bars are right in 19 of 20 cases."}
	for blade := range f.blades {
		s, err := f.line(f.result, fmt.Sprintf("blade %d", blade+1), gauge.Point{Blade: blade, Mode: name})
		if err != nil {
			return "", err
		}
		s.Marks = f.marks(blade, name)
		is.Series = append(is.Series, s)
		now.Series = append(now.Series, minus(s, wanted))
		after.Series = append(after.Series, f.expected(blade, name))
	}
	is.Series = append(is.Series, wanted)
	for _, s := range slices.Concat(now.Series, after.Series) { // one scale for both
		for i, p := range slices.Concat(s.Line, s.Marks) {
			half := slices.Concat(s.Band, s.Bars)[i]
			now.Lo, now.Hi = min(now.Lo, p.Y-half), max(now.Hi, p.Y+half)
		}
	}
	after.Lo, after.Hi = now.Lo, now.Hi
	const width, height = 340, 200
	return show.Charts(width, height, []string{show.Caution(works, f.rig.Machine())}, "Over the collective stick: the calculated blade pitch, with the readings; how far it is from the wanted pitch now; and how far it should be after the steps. The tables give the figures.", is, now, after)
}

// minus returns a series minus what is wanted, without its marks.
func minus(s, wanted show.Series) show.Series {
	line := make(plotter.XYs, len(s.Line))
	for i, p := range s.Line {
		line[i] = plotter.XY{X: p.X, Y: p.Y - wanted.Line[i].Y}
	}
	return show.Series{Name: s.Name, Line: line, Band: s.Band}
}

// mostRead returns the mode in which most readings were taken, or else the first that works;
// false where there is neither.
func (f *findings) mostRead() (setup.Setup, bool) {
	most, ok := show.Working(f.rig)
	count := 0
	for _, m := range f.rig.Modes() {
		n := 0
		for _, r := range f.readings {
			if r.Mode == m.Name() {
				n++
			}
		}
		if n > count {
			most, ok, count = m, true, n
		}
	}
	return most, ok
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

// marks are the readings of a blade over the collective stick, minus what the gauge's zero
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
		atGauge := r.Bearing == nil || *r.Bearing == f.rig.Gauge().Bearing
		if r.Of == gauge.BladePitch && r.Blade == blade && r.Mode == mode && atGauge && r.Stick.Right == 0 && r.Stick.Forward == 0 {
			marks = append(marks, plotter.XY{X: 100 * r.Stick.Collective, Y: (r.Value - zero).Degrees()})
		}
	}
	return marks
}

// expected is how far a blade is off at the collective sticks of a mode once all steps are
// done, each with its 95 % interval. Blades stand a little apart so that all show.
func (f *findings) expected(blade int, mode string) show.Series {
	s := show.Series{Name: fmt.Sprintf("blade %d", blade+1)}
	const apart = 3
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
