package main

import (
	"example.org/levelhead/pitch/rotor"
	"example.org/levelhead/units"
)

// The rotor and drive of the demonstration machine. All of it is invented: no such
// machine exists, its numbers are of ordinary size, and none is a recommendation.
// Put your own machine's in their place.

// mass is that of the machine ready to fly.
const mass = 3.1 * units.Kilogram

// blades are two straight ones without twist, so that the gauge shows the pitch at
// any radius.
var blades = rotor.Spec{
	Blades:  2,
	Radius:  620 * units.Millimetre,
	Cutout:  100 * units.Millimetre,
	Chord:   54 * units.Millimetre,
	Section: rotor.NACA0015(),
}

var motor = rotor.Motor{
	SpeedConstant: 1020 * units.RevolutionPerMinute,
	Resistance:    22 * units.Milliohm,
	NoLoad:        2.5 * units.Ampere,
}

// gear has the tail rotor's share of the power in its efficiency.
var gear = rotor.Gear{Ratio: 9.5, Efficiency: 0.85}

var battery = rotor.Battery{
	Cells:      6,
	Cell:       rotor.LithiumPolymer(),
	Resistance: 14 * units.Milliohm,
}
