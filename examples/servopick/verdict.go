package main

import (
	"strings"

	"example.org/levelhead/pitch/load"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/servo"
	"example.org/levelhead/units"
)

// hardest returns the servo that holds the largest share of its stall torque.
func hardest(s *load.Performance) *load.ServoPerformance {
	most := &s.Servos[0]
	for i := range s.Servos {
		if s.Servos[i].Load > most.Load {
			most = &s.Servos[i]
		}
	}
	return most
}

// slowest returns the longest stroke. If a load stalls a servo, stalled tells which.
func slowest(s *load.Performance) (stroke units.Time, stalled *servo.OverloadError) {
	for _, one := range s.Servos {
		stroke = max(stroke, one.Stroke)
		if one.Stalled != nil {
			stalled = one.Stalled
		}
	}
	return stroke, stalled
}

// unrated returns the error of a voltage outside the ratings, and nil if there is none.
func unrated(s *load.Performance) *servo.VoltageError {
	for _, one := range s.Servos {
		if one.Unrated != nil {
			return one.Unrated
		}
	}
	return nil
}

// within is the verdict on servos within the limits of load and stroke.
const within = "within limits"

// verdict compares servos with the machine's limits of load and stroke, and with their rated
// voltages.
func verdict(s *load.Performance, limits machine.Limits) string {
	var faults []string
	stroke, stalled := slowest(s)
	switch {
	case stalled != nil:
		faults = append(faults, "STALLS")
	case hardest(s).Load > limits.ServoLoad:
		faults = append(faults, "too weak")
	}
	if stalled == nil && stroke > limits.Stroke {
		faults = append(faults, "too slow")
	}
	if unrated(s) != nil {
		faults = append(faults, "not rated")
	}
	if faults == nil {
		return within
	}
	return strings.Join(faults, ", ")
}
