package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"example.org/levelhead/units"
)

// short returns where on the stick a supply does not hold the speed, such as "0 % to
// 5 %, 95 % to 100 %"; nothing where it does everywhere.
func (m *mode) short(supply int) string {
	var runs []string
	for i := 0; i < len(m.points); i++ {
		first := i
		for i < len(m.points) && m.points[i].falls(supply) {
			i++
		}
		switch last := i - 1; {
		case last == first:
			runs = append(runs, m.points[first].stick.String())
		case last > first:
			runs = append(runs, fmt.Sprintf("%v to %v", m.points[first].stick, m.points[last].stick))
		}
	}
	return strings.Join(runs, ", ")
}

// reason says why a supply does not hold the speed where it first falls short.
func (m *mode) reason(supply int) string {
	i := slices.IndexFunc(m.points, func(q point) bool { return q.falls(supply) })
	held := &m.points[i].held[supply]
	short := held.Short
	switch {
	case short != nil || errors.As(held.Unsolved, &short):
		return short.Reason
	default:
		return held.Unsolved.Error()
	}
}

// lasts returns the lowest charge, in whole per cent below the first supply's, that
// holds the speed at the point of most torque, and so at all. It looks no lower than the
// charge to land at.
func (p *plan) lasts(m *mode) units.Ratio {
	var most *point
	for i := range m.points {
		if q := &m.points[i]; q.stopped == "" && (most == nil || q.held[0].Loads.Torque > most.held[0].Loads.Torque) {
			most = q
		}
	}
	charge := p.supplies[0].charge
	for most != nil && p.electric() && charge > p.landAt() {
		next := max(charge-1*units.Percent, p.landAt())
		drive, err := p.rig.PowerTrain(next)
		if err != nil {
			break // lower than the cell's figures go
		}
		if held := m.spin.Hold(drive, most.pitch); held.Short != nil || held.Unsolved != nil {
			break
		}
		charge = next
	}
	return charge
}

// landAt is the battery charge to land at.
func (p *plan) landAt() units.Ratio { return p.rig.Machine.Power.Battery.LandAt }

// falls reports whether a supply does not hold the speed at the point.
func (q *point) falls(supply int) bool {
	return q.stopped == "" && (q.held[supply].Short != nil || q.held[supply].Unsolved != nil)
}
