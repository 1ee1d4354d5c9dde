package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"example.org/levelhead/units"
)

// short returns where on the stick a supply does not hold the speed, such as "0 % to 5 % and
// 95 % to 100 %". It is empty if the supply holds the speed everywhere.
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
	return strings.Join(runs, " and ")
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
		return plain(held.Unsolved)
	}
}

// lasts returns the lowest charge that holds the speed at the point of most torque, and so
// everywhere. It goes down from the first supply's charge in whole per cent, no lower than the
// charge to land at.
func (p *plan) lasts(m *mode) units.Ratio {
	var most *point
	for i := range m.points {
		if q := &m.points[i]; q.unreachable == "" && (most == nil || q.held[0].Loads.Torque > most.held[0].Loads.Torque) {
			most = q
		}
	}
	charge := p.supplies[0].charge
	for most != nil && p.electric() && charge > p.landAt() {
		next := max(charge-1*units.Percent, p.landAt())
		train, err := p.rig.PowerTrain(next)
		if err != nil {
			break // the cell's figures go no lower
		}
		if held := m.spin.Hold(train, most.pitch); held.Short != nil || held.Unsolved != nil {
			break
		}
		charge = next
	}
	return charge
}

// landAt returns the battery charge to land at.
func (p *plan) landAt() units.Ratio { return p.rig.Machine().Power.Battery.LandAt }

// falls reports whether a supply falls short of the speed at the point.
func (q *point) falls(supply int) bool {
	return q.unreachable == "" && (q.held[supply].Short != nil || q.held[supply].Unsolved != nil)
}
