package main

import (
	"example.org/levelhead/servo"
	"example.org/levelhead/units"
)

// The servos that are compared with the machine's own are all invented. No such servos exist,
// their numbers are of ordinary size, and none is a recommendation. Replace them with the
// figures of your own servos' makers.

// candidate is a servo to compare, put on all legs of the machine.
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

// rated returns a rating from the units that makers use: volts, kgf·cm, and milliseconds
// for 60°.
func rated(voltage units.Voltage, stall units.Torque, transit units.Time) servo.RatingPoint {
	return servo.RatingPoint{
		Voltage: voltage * units.Volt,
		Stall:   stall * units.KilogramForceCentimetre,
		Speed:   units.TransitSpeed(transit * units.Millisecond),
	}
}
