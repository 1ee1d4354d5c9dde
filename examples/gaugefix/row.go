package main

import (
	"errors"
	"fmt"
	"strconv"
	"unicode/utf8"

	"example.org/levelhead/pitch/gauge"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// quantities by their word in the column what.
var quantities = map[string]gauge.Quantity{
	"blade": gauge.BladePitch, "tilt right": gauge.TiltRight, "tilt forward": gauge.TiltForward, "arm": gauge.ArmAngle,
}

// parseRow reads one reading of a machine with so many blades, and returns the column at
// fault.
func parseRow(cells []string, rig *setup.Rig, blades int) (r gauge.Reading, column string, err error) {
	for i, cell := range cells {
		if n := utf8.RuneCountInString(cell); n > maxCell {
			return r, columns[i], fmt.Errorf("has %d characters; write at most %d", n, maxCell)
		}
	}
	var known bool
	if r.Of, known = quantities[cells[0]]; !known {
		return r, columns[0], fmt.Errorf("must be blade, tilt right, tilt forward or arm, not %q", cells[0])
	}
	if err := which(&r.Point, cells[1], rig, blades); err != nil {
		return r, columns[1], err
	}
	r.Mode = cells[2]
	if _, known := rig.Mode(r.Mode); !known {
		modes := rig.Modes()
		return r, columns[2], fmt.Errorf("%q is not a mode of this machine; write %s", r.Mode, choice(len(modes), func(i int) string { return modes[i].Name() }))
	}
	for i, to := range []*float64{&r.Stick.Collective, &r.Stick.Right, &r.Stick.Forward} {
		cell, lowest := cells[3+i], units.Ratio(-1)
		if i == 0 {
			lowest = 0
		} else if cell == "" {
			continue
		}
		ratio, err := units.Parse[units.Ratio](cell)
		if err == nil && !(ratio >= lowest && ratio <= 1) {
			err = fmt.Errorf("must be from %v to 100 %%, not %v", lowest, ratio)
		}
		if err != nil {
			return r, columns[3+i], err
		}
		*to = float64(ratio)
	}
	if cells[6] != "" {
		bearing, err := units.Parse[units.Angle](cells[6])
		switch {
		case err != nil:
		case r.Of != gauge.BladePitch:
			err = errors.New("must be empty: only a blade has it")
		case !(bearing >= 0 && bearing <= 360*units.Degree):
			err = fmt.Errorf("must be from 0° to 360°, not %v", bearing)
		}
		if err != nil {
			return r, columns[6], err
		}
		r.Bearing = &bearing
	}
	if r.Value, err = units.Parse[units.Angle](cells[7]); err != nil {
		return r, columns[7], err
	}
	return r, "", nil
}

// which reads the number of a blade or the name of a servo.
func which(s *gauge.Point, cell string, rig *setup.Rig, blades int) error {
	switch s.Of {
	case gauge.BladePitch:
		number, err := strconv.Atoi(cell)
		if err != nil || number < 1 {
			return fmt.Errorf("must be the number of a blade, such as 1, not %q", cell)
		}
		if number > blades {
			return fmt.Errorf("the machine has %s, not %d (or use -blades)", toWrite(blades), number)
		}
		s.Blade = number - 1
	case gauge.ArmAngle:
		servos := rig.Servos()
		for i := range servos {
			if servos[i].Name == cell {
				s.Servo = i
				return nil
			}
		}
		return fmt.Errorf("%q is not a servo of this machine; write %s", cell, choice(len(servos), func(i int) string { return servos[i].Name }))
	default:
		if cell != "" {
			return errors.New("must be empty for a tilt")
		}
	}
	return nil
}

// toWrite says how many blades there are, and the numbers that a cell can hold for one.
func toWrite(blades int) string {
	switch blades {
	case 1:
		return "1 blade; write 1"
	case 2:
		return "2 blades; write 1 or 2"
	}
	return fmt.Sprintf("%d blades; write a number from 1 to %d", blades, blades)
}

// choice lists what a cell can hold: "hover", "aerobatic" or "glide".
func choice(n int, name func(i int) string) string {
	var text string
	for i := range n {
		switch {
		case i == 0:
		case i == n-1:
			text += " or "
		default:
			text += ", "
		}
		text += strconv.Quote(name(i))
	}
	return text
}
