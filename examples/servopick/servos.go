package main

import (
	"example.org/levelhead/pitch/rotor"
	"example.org/levelhead/servo"
	"example.org/levelhead/units"
)

// The servos that are compared, and the rotor and blade that load them. All of it is
// invented: no such parts exist, their numbers are of ordinary size, and none is a
// recommendation. Put your own makers' figures in their place.

// candidate is a servo that may go into the machine, the same one everywhere.
type candidate struct {
	name string
	servo.Rating
}

var candidates = []candidate{
	{"small analogue", servo.Rating{
		Points:       []servo.RatingPoint{rated(4.8, 0.6, 130), rated(6, 0.7, 110)},
		Deadband:     6 * units.PulseMicrosecond,
		FullTorqueAt: 9 * units.Degree,
		Frame:        20 * units.Millisecond,
	}},
	{"large analogue", servo.Rating{
		Points:       []servo.RatingPoint{rated(4.8, 4.6, 190), rated(7.4, 6.4, 140)},
		Deadband:     5 * units.PulseMicrosecond,
		FullTorqueAt: 8 * units.Degree,
		Frame:        20 * units.Millisecond,
	}},
	{"standard digital", servo.Rating{
		Points:       []servo.RatingPoint{rated(4.8, 6.8, 150), rated(6, 8.3, 120), rated(7.4, 9.9, 100)},
		Deadband:     2 * units.PulseMicrosecond,
		FullTorqueAt: 3 * units.Degree,
		Frame:        5 * units.Millisecond,
	}},
	{"fast digital", servo.Rating{
		Points:       []servo.RatingPoint{rated(6, 7.2, 65), rated(8.4, 10, 45)},
		Deadband:     1 * units.PulseMicrosecond,
		FullTorqueAt: 2.5 * units.Degree,
		Frame:        3 * units.Millisecond,
	}},
	{"strong digital", servo.Rating{
		Points:       []servo.RatingPoint{rated(6, 15.5, 115), rated(8.4, 21, 80)},
		Deadband:     1.5 * units.PulseMicrosecond,
		FullTorqueAt: 2.5 * units.Degree,
		Frame:        3 * units.Millisecond,
	}},
}

// rated is a rating as makers give it: volts, kgf·cm, and milliseconds for 60°.
func rated(voltage units.Voltage, stall units.Torque, transit units.Time) servo.RatingPoint {
	return servo.RatingPoint{
		Voltage: voltage * units.Volt,
		Stall:   stall * units.KilogramForceCentimetre,
		Speed:   units.TransitSpeed(transit * units.Millisecond),
	}
}

// blades are two straight ones without twist.
var blades = rotor.Spec{
	Blades:  2,
	Radius:  690 * units.Millimetre,
	Cutout:  120 * units.Millimetre,
	Chord:   60 * units.Millimetre,
	Section: rotor.NACA0015(),
}

// One of the blades: its thickness, and where the feathering axis lies behind the
// leading edge, in chords.
const (
	bladeMass = 160 * units.Gram
	thickness = 12 * units.Percent
	axis      = 42 * units.Percent
)

// density is that of air at sea level by the standard atmosphere, in kg/m³.
const density = 1.225
