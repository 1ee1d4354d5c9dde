package main

import (
	"fmt"
	"math"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

const readingTitle = "How to read the tables"

// readingTexts explain the columns of the modes' tables, each once.
func readingTexts(rig *setup.Rig, s *sheet.Sheet) []string {
	texts := []string{
		gaugeText(rig),
		"Gauge, plate and throttle: Demand is the value of the pitch curve. Gauge reads is what the pitch gauge should show; + is leading edge up. Low side is the direction in which the plate is lowest.",
		"Stick corners: 16 corners are low and high stick, each with the cyclic stick in eight directions.",
		"Full cyclic: Pitch is how far the pitch swings to either side over one turn. Most pitch at is the direction of the blade when it has the most pitch. Uneven by is the most that the pitch departs from an even swing. Pitch includes the tilt that the plate has without cyclic.",
		"Circular cyclic limit: Tilt is what the plate reaches in every direction, at its height with the cyclic stick centred. Cyclic pitch is what that tilt gives. Tightest at is the direction in which the plate cannot tilt further. Because is what stops it there. " +
			"Cyclic can change the plate's height a little, and the sticks then reach up to about a tenth more. The tables give the smaller figure.",
	}
	for _, m := range s.Modes {
		if m.Readings != nil {
			texts = append(texts, "Gauge at the targets: Wanted is the target. Exact is what the gauge would show without the radio's steps. As entered is what it should show with them.")
			break
		}
	}
	if loaded(s, func(l *sheet.Loads) bool { return l.Unsolved == "" }) {
		texts = append(texts, "Servo loads: Largest is the highest torque over all sticks and one turn of the rotor. At high stick is the torque that the servo then holds. Stall is its stall torque. Load is the largest as a share of stall. "+
			"Full stroke is the time for the whole collective stick, against the largest load. Friction, the weight of the parts and gusts add to these loads.")
	}
	if loaded(s, func(l *sheet.Loads) bool { return l.Held != nil }) {
		share := "Power share is the part of the engine's power that is needed. Do not enter it."
		if rig.Machine().Power.Battery != nil {
			share = "Battery full is the throttle with a full battery, as a share of the battery's voltage. Motor is the motor's current with a full battery."
		}
		texts = append(texts, capital(throttleWord(rig))+" that holds the speed: "+share+" Rotor power is theory. It can be 15 % off, and more below 4° of pitch or past the stall.")
	}
	if play := playText(rig); play != "" {
		texts = append(texts, play)
	}
	return texts
}

// loaded reports whether a mode of the sheet has loads of a kind.
func loaded(s *sheet.Sheet, of func(*sheet.Loads) bool) bool {
	for _, m := range s.Modes {
		if m.Loads != nil && of(m.Loads) {
			return true
		}
	}
	return false
}

// gaugeText says where the gauge is read, and what it can show.
func gaugeText(rig *setup.Rig) string {
	g := rig.Gauge()
	return fmt.Sprintf("Gauge: Read it with the blade over the %s and the cyclic stick centred. The gauge goes from %v to %v in steps of %v.",
		side(g.Bearing), g.Low, g.High, g.Step)
}

// side says a direction in words, and in degrees.
func side(bearing units.Angle) string {
	names := [...]string{"nose", "right front", "right side", "right rear", "tail", "left rear", "left side", "left front"}
	eighth := int(math.Round(math.Mod(bearing.Degrees(), 360)/45)) + len(names)
	return fmt.Sprintf("%s (%s)", names[eighth%len(names)], show.Bearing(bearing))
}

// playText says how far the blade and the plate can be moved by hand at neutral, and
// nothing where the machine file does not give the play of its joints.
func playText(rig *setup.Rig) string {
	play := rig.Machine().Play
	if play == nil {
		return ""
	}
	joints, err := rig.Joints(*play, swash.Demand{})
	if err != nil {
		return fmt.Sprintf("Play at the blade cannot be worked out: %v.", err)
	}
	worst, likely := joints.Worst(), joints.RootSumSquare()
	return fmt.Sprintf("Play at the blade, to either side of neutral: Pitch %s at worst and %s likely. Tilt of the plate %s at worst and %s likely. Likely is each joint at a random end of its play.",
		show.Angle(worst.Blade), show.Angle(likely.Blade), show.Angle(worst.Tilt), show.Angle(likely.Tilt))
}
