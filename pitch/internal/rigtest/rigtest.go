// Package rigtest holds what the tests of several packages share: machines of the examples, and
// changes to them.
package rigtest

import (
	"bytes"
	_ "embed"
	"os"
	"path/filepath"
	"testing"

	"example.org/levelhead/curve"
	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// Files are the machine files of examples/demo/testdata, one of each type.
func Files(tb testing.TB) map[string][]byte {
	tb.Helper()
	paths, err := filepath.Glob(Demos + "*.json")
	if err != nil || len(paths) < 5 {
		tb.Fatalf("%q, %v", paths, err)
	}
	files := map[string][]byte{}
	for _, path := range paths {
		files[filepath.Base(path)] = Read(tb, path)
	}
	return files
}

// Rigs are the machines of Files after edit has changed them.
func Rigs(tb testing.TB, edit func(*machine.Machine)) map[string]*setup.Rig {
	tb.Helper()
	rigs := map[string]*setup.Rig{}
	for name, data := range Files(tb) {
		rigs[name] = Rig(tb, data, edit)
	}
	return rigs
}

// Demos is the folder of the examples' machine files, from a package beside setup.
const Demos = "../../examples/demo/testdata/"

// Rig builds a machine file after edit has changed it.
func Rig(tb testing.TB, data []byte, edit func(*machine.Machine)) *setup.Rig {
	tb.Helper()
	m := Parse(tb, data)
	edit(m)
	r, err := setup.Build(m)
	if err != nil {
		tb.Fatal(err)
	}
	return r
}

// Hover keeps the first mode only, which has its own rates and curve.
func Hover(m *machine.Machine) { m.Modes = m.Modes[:1] }

// Straight is Hover with a curve from end to end, which stands at zero at mid stick.
func Straight(m *machine.Machine) {
	Hover(m)
	m.Modes[0].Pitch = &machine.Curve{Kind: curve.Polyline, Points: [][2]units.Ratio{{0, -1}, {0.5, 0}, {1, 1}}}
}

// Stepless takes the radio's pulse steps out.
func Stepless(m *machine.Machine) { m.Radio.PulseStep = 0 }

// Read returns a file.
func Read(tb testing.TB, path string) []byte {
	tb.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		tb.Fatal(err)
	}
	return data
}

//go:embed testdata/full.json
var full []byte

// Full returns a machine file in which every field of a direct plate stands once. The
// machine is invented.
func Full(testing.TB) []byte { return bytes.Clone(full) }

// Changed returns the full file with one text in place of another, which must be
// there.
func Changed(tb testing.TB, old, new string) []byte {
	tb.Helper()
	data := Full(tb)
	if !bytes.Contains(data, []byte(old)) {
		tb.Fatalf("no %q in the file", old)
	}
	return bytes.Replace(data, []byte(old), []byte(new), 1)
}

// Parse is machine.Parse where nothing may be wrong.
func Parse(tb testing.TB, data []byte) *machine.Machine {
	tb.Helper()
	m, err := machine.Parse(data)
	if err != nil {
		tb.Fatal(err)
	}
	return m
}

// Open reads and builds a machine file.
func Open(data []byte) (*setup.Rig, error) {
	m, err := machine.Parse(data)
	if err != nil {
		return nil, err
	}
	return setup.Build(m)
}

// Build is Open where nothing may be wrong.
func Build(tb testing.TB, data []byte) *setup.Rig {
	tb.Helper()
	r, err := Open(data)
	if err != nil {
		tb.Fatal(err)
	}
	return r
}

// LineOf returns the line in which a text first stands.
func LineOf(data []byte, text string) int {
	i := bytes.Index(data, []byte(text))
	return 1 + bytes.Count(data[:i], []byte("\n"))
}

// Mirrored turns a machine on a direct plate into the one seen in a mirror that
// stands along its middle.
func Mirrored(m *machine.Machine) {
	m.Head.Rotation = map[pitch.Rotation]pitch.Rotation{pitch.Clockwise: pitch.CounterClockwise, pitch.CounterClockwise: pitch.Clockwise}[m.Head.Rotation]
	m.Head.Phase, m.Head.RingDriver, m.Gauge.Bearing = -m.Head.Phase, -m.Head.RingDriver, -m.Gauge.Bearing
	if m.Plate.Guide != nil {
		guide := -*m.Plate.Guide
		m.Plate.Guide = &guide
	}
	for i := range m.Plate.Legs {
		leg := *m.Plate.Legs[i].Upright
		leg.Bearing = -leg.Bearing
		m.Plate.Legs[i].Upright = &leg
	}
}

func Transfer(tb testing.TB, from setup.Setup, to *setup.Rig, o setup.TransferOptions) *setup.Transfer {
	tb.Helper()
	t, err := from.Transfer(to, o)
	if err != nil {
		tb.Fatal(err)
	}
	return t
}

func Cyclic(t *testing.T, r *setup.Rig, m setup.Setup, s pitch.Stick) pitch.Cyclic {
	t.Helper()
	d, err := m.Setting().Demand(s)
	if err != nil {
		t.Fatal(err)
	}
	pose, err := r.Head().Control.Pose(r.Head().Control.NewState(), d)
	if err != nil {
		t.Fatal(err)
	}
	rev, err := r.Head().Grip.Revolution(pose)
	if err != nil {
		t.Fatal(err)
	}
	return rev.Cyclic
}

// Tolerances of comparisons and transfers.
const (
	// TidyDegrees is for two figures that are each rounded to a millionth of a
	// degree, as on a sheet.
	TidyDegrees = 1.01e-6
	// ExactDegrees is what the package promises for a solved target.
	ExactDegrees = 1e-9
)

// WideThrow leaves one mode, whose pitch goes beyond the 30° that the rotor's theory
// covers.
func WideThrow(m *machine.Machine) {
	Hover(m)
	m.Modes[0].Rates.Collective = 100 * units.Percent
	m.Head.HornRadius = 15 * units.Millimetre
}
