// Package show holds what the examples share: reading a machine, and setting
// quantities, tables and pictures out for people at a bench.
//
// Angles are shown to a hundredth of a degree, ten times finer than a good pitch
// gauge, and all else to match. Nothing is worked out here.
package show

import (
	"fmt"
	"io"
	"math"
	"strings"

	"example.org/levelhead/examples/internal/files"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/units"
)

// Rig reads the machine file at path, or takes the one given where path is empty,
// and builds it.
func Rig(path string, data []byte) (*setup.Rig, error) {
	if path != "" {
		var err error
		if data, err = files.Read(path, machine.MaxFile); err != nil {
			return nil, err
		}
	}
	rig, err := read(data)
	if err != nil && path != "" {
		err = fmt.Errorf("%s: %w", path, err)
	}
	return rig, err
}

func read(data []byte) (*setup.Rig, error) {
	m, err := machine.Parse(data)
	if err != nil {
		return nil, err
	}
	return setup.Build(m)
}

const caution = "CAUTION: "

// PrintCaution prints what goes before anything else that is shown of machines: the
// cautions for what is then done with them.
func PrintCaution(w io.Writer, work sheet.Work, machines ...*machine.Machine) {
	first, rest := caution, strings.Repeat(" ", len(caution))
	for _, text := range sheet.Cautions(work, machines...) {
		Print(w, first, rest, text)
		first = rest
	}
	fmt.Fprintln(w)
}

// Caution is the line that every picture of machines carries.
func Caution(work sheet.Work, machines ...*machine.Machine) string {
	return caution + sheet.Caution(work, machines...)
}

// Working returns the first flight mode that can be worked out, and false where none can.
func Working(rig *setup.Rig) (setup.Setup, bool) {
	for _, m := range rig.Modes() {
		if m.Works() {
			return m, true
		}
	}
	return setup.Setup{}, false
}

// Angle returns an angle to two decimals of a degree.
func Angle(a units.Angle) string {
	return fmt.Sprintf("%.2f°", units.Round(a, 2).Degrees())
}

// Signed returns an angle to two decimals of a degree, with its sign unless it
// is zero.
func Signed(a units.Angle) string {
	if units.Round(a, 2) == 0 {
		return Angle(0)
	}
	return fmt.Sprintf("%+.2f°", a.Degrees())
}

// Bearing returns a bearing in whole degrees, below 360°.
func Bearing(a units.Angle) string {
	b := units.Round(a, 0)
	if b >= 360*units.Degree {
		b = 0
	}
	return b.String()
}

// Tilt returns a tilt's amount and the bearing of its low side, or "level" and
// no bearing where the amount is shown as zero.
func Tilt(amount, low units.Angle) (string, string) {
	if units.Round(amount, 2) == 0 {
		return "level", "-"
	}
	return Angle(amount), Bearing(low)
}

// Plain returns a number to some decimals, with its sign unless it is zero: for
// columns whose unit stands in the head.
func Plain(x float64, decimals int) string {
	text := fmt.Sprintf("%+.*f", decimals, x)
	if strings.Trim(text, "+-0.") == "" {
		return text[1:]
	}
	return text
}

// Length returns a length to a hundredth of a millimetre.
func Length(l units.Length) string { return fmt.Sprintf("%.2f mm", l.Millimetres()) }

// Torque returns a torque in kgf·cm to two decimals, without its unit. One that is halfway goes up in size, however its last digits come out.
func Torque(t units.Torque) string {
	const exact, shown = 1e4, 1e2
	kgfcm := math.Round(t.KilogramForceCentimetres()*exact) / exact
	return fmt.Sprintf("%.2f", math.Round(kgfcm*shown)/shown)
}

// Pulse returns a pulse width to a tenth of a microsecond.
func Pulse(p units.PulseWidth) string { return units.Round(p, 1).String() }

// Percent returns a ratio to a tenth of one per cent.
func Percent(r units.Ratio) string { return units.Round(r, 1).String() }
