package sheet

import (
	"fmt"
	"math"

	"example.org/levelhead/pitch/machine"

	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// checkServos looks for servos that move the wrong way.
func (b *bench) checkServos() []Finding {
	var found []Finding
	mix := b.head.Control.Mix()
	for i, s := range b.head.Control.Servos() {
		if mix[i].Collective == 0 {
			continue // of a function of its own: checkFunctions speaks of it
		}
		rise := float64(s.ArmPerCommand(0)) * mix[i].Collective
		if rise >= 0 {
			continue
		}
		do := "Change this servo's reverse, and nothing else. Then check collective, right cyclic and forward cyclic again."
		if mix[i].Collective < 0 {
			do = "Correct the mixing before any servo reverse. There, this servo's share of collective is below zero. Then check collective, right cyclic and forward cyclic again."
		}
		found = append(found, Finding{Severity: Stop, Where: b.servos[i].Name, What: "Servo runs the wrong way",
			Figure: fmt.Sprintf("full positive collective turns its arm down by %.1f°", -rise*degree), Do: do})
	}
	return found
}

// checkFunctions looks for functions that move the plate the wrong way, and for
// cyclic that tilts it to a side it was not asked to.
func (b *bench) checkFunctions() []Finding {
	const crossLimit = 6 * units.Degree // about a tenth of the tilt; chosen here, no source
	_, slopes, err := b.head.Control.Slopes(b.head.Control.NewState(), swash.Demand{})
	if err != nil {
		return []Finding{{Severity: Stop, Where: "collective and cyclic", What: "The servos do not hold the swashplate at neutral", Figure: b.rig.Cause(err),
			Do: "Correct the arms, links and sub-trims before anything else."}}
	}
	var found []Finding
	for _, f := range []struct {
		name        string
		want, cross float64 // what the function should do, and should not, for a demand of 1
		unit        string
		scale       float64
		side        string
	}{
		{"collective", slopes.Collective.Height, 0, " mm of rise", 1000, ""},
		{"right cyclic", slopes.Right.Right, slopes.Right.Forward, "° of tilt to the right", degree, "forward or back"},
		{"forward cyclic", slopes.Forward.Forward, slopes.Forward.Right, "° of tilt forward", degree, "to one side"},
	} {
		if f.want <= 0 {
			found = append(found, Finding{Severity: Stop, Where: f.name, What: "Control moves the swashplate the wrong way, or not at all",
				Figure: fmt.Sprintf("a full demand of it gives about %.1f%s", math.Round(10*f.want*f.scale)/10+0, f.unit),
				Do:     "Correct the servo reverse and the mixing before anything else."})
		}
		if astray := units.Angle(math.Abs(math.Atan2(f.cross, math.Abs(f.want)))); astray > crossLimit {
			found = append(found, Finding{Severity: Fix, Where: f.name, What: "Cyclic tilts the swashplate to another side too",
				Figure: fmt.Sprintf("the tilt is off %s by %.0f° (%s)", f.side, astray.Degrees(), machine.LimitText(crossLimit, crossLimit)),
				Do:     "Choose the mixing that suits where the balls are on the swashplate. Or plug each servo into the channel that is mixed for it."})
		}
	}
	return found
}

// heightTolerance is how far the plate may stand at neutral from the height that the
// file gives. It is our own limit: a plate is measured to half a millimetre.
const heightTolerance = 0.5 * units.Millimetre

// checkHeight looks for servo links that make another neutral height than the file's.
func (b *bench) checkHeight() []Finding {
	file, made := b.file.Plate.NeutralHeight, b.head.Control.Mechanism().Neutral().Height
	if units.Length(math.Abs(float64(made-file))) <= heightTolerance {
		return nil
	}
	return []Finding{{Severity: Fix, Where: "swashplate", What: "The swashplate's neutral height does not agree with the links",
		Figure: fmt.Sprintf("the file says %v; the links make it %v", units.Round(file, 2), units.Round(made, 2)),
		Do:     "Set all servo arms to neutral. Measure the height of the plate's centre and the length of the servo links. Correct the file. All figures here use the height that the links make."}}
}

// checkSquare looks for arms off square to their links at neutral.
func (b *bench) checkSquare(n Neutral) []Finding {
	var found []Finding
	for i, s := range n.Servos {
		if math.Abs(float64(s.OffSquare)) <= float64(b.limits.OffSquare) {
			continue
		}
		var do string
		if s.Teeth != 0 {
			do = fmt.Sprintf("Move the arm %s on its spline of %d teeth. ", teeth(s.Teeth), int(b.servos[i].Type.Spline))
		}
		if s.NoTrim {
			do += "Check the links and where the servo is mounted. Sub-trim cannot correct the rest."
		} else {
			do += fmt.Sprintf("Set the sub-trim to %s.", signed(s.SubTrim))
		}
		found = append(found, Finding{Severity: Fix, Where: s.Name, What: "Servo arm not square to its link at neutral",
			Figure: fmt.Sprintf("%+.1f° off (%s), so travel up and travel down are unequal", s.OffSquare.Degrees(), machine.LimitText(b.limits.OffSquare, ours.OffSquare)),
			Do:     do + " Then level the plate with the link."})
	}
	return found
}

// signed says a sub-trim with its sign, also plus.
func signed(trim units.PulseWidth) string {
	return fmt.Sprintf("%+.4g µs", units.Round(trim, 1).Microseconds()+0) // no minus zero
}

// teeth says how many teeth to move an arm by.
func teeth(n int) string {
	way, count := "up", n
	if n < 0 {
		way, count = "down", -n
	}
	if count == 1 {
		return "1 tooth " + way
	}
	return fmt.Sprintf("%d teeth %s", count, way)
}
