package sheet

import (
	"math"

	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// checkServos looks for servos that move the wrong way.
func (b *bench) checkServos(*Sheet) []Finding {
	var found []Finding
	mix := b.head.Control.Mix()
	for i, s := range b.head.Control.Servos() {
		if mix[i].Collective == 0 {
			continue // of a control of its own: checkControls speaks of it
		}
		rise := float64(s.ArmPerCommand(0)) * mix[i].Collective
		if rise >= 0 {
			continue
		}
		found = append(found, report(servoReversed{Place{Servo: b.servos[i].Name}, units.Angle(-rise), mix[i].Collective < 0}))
	}
	return found
}

// checkControls looks for controls that move the plate the wrong way, and for
// cyclic that tilts it to a side it was not asked to.
func (b *bench) checkControls(*Sheet) []Finding {
	const crossLimit = 6 * units.Degree // about a tenth of the tilt; chosen here, no source
	_, slopes, err := b.head.Control.Slopes(b.head.Control.NewState(), swash.Demand{})
	if err != nil {
		return []Finding{report(notHeldAtNeutral{b.rig.Cause(err)})}
	}
	var found []Finding
	if rise := slopes.Collective.Height; rise <= 0 {
		found = append(found, report(controlReversed{Place: Place{Control: "collective"}, Rise: known(units.Length(rise))}))
	}
	for _, c := range []struct {
		control     string
		want, cross float64 // what it should do, and should not, for a demand of 1
	}{
		{"right cyclic", slopes.Right.Right, slopes.Right.Forward},
		{"forward cyclic", slopes.Forward.Forward, slopes.Forward.Right},
	} {
		if c.want <= 0 {
			found = append(found, report(controlReversed{Place: Place{Control: c.control}, Tilt: known(units.Angle(c.want))}))
		}
		if astray := units.Angle(math.Abs(math.Atan2(c.cross, math.Abs(c.want)))); astray > crossLimit {
			found = append(found, report(cyclicAstray{Place{Control: c.control}, astray, crossLimit}))
		}
	}
	return found
}

// heightTolerance is how far the plate may stand at neutral from the height that the
// file gives. It is our own limit: a plate is measured to half a millimetre.
const heightTolerance = 0.5 * units.Millimetre

// checkHeight looks for servo links that make another neutral height than the file's.
func (b *bench) checkHeight(*Sheet) []Finding {
	file, made := b.file.Plate.NeutralHeight, b.head.Control.Mechanism().Neutral().Height
	if units.Length(math.Abs(float64(made-file))) <= heightTolerance {
		return nil
	}
	return []Finding{report(neutralHeightOff{file, made})}
}

// checkSquare looks for arms off square to their links at neutral.
func (b *bench) checkSquare(sheet *Sheet) []Finding {
	var found []Finding
	for i, s := range sheet.Neutral.Servos {
		if math.Abs(float64(s.OffSquare)) <= float64(b.limits.OffSquare) {
			continue
		}
		f := armOffSquare{Place{Servo: s.Name}, s.OffSquare, b.limits.OffSquare, s.Teeth, int(b.servos[i].Type.Spline), nil}
		if !s.NoTrim {
			f.SubTrim = known(s.SubTrim)
		}
		found = append(found, report(f))
	}
	return found
}
