package main

import (
	"example.org/levelhead/examples/internal/results"
	"example.org/levelhead/pitch/sheet"
)

// result is the comparison for JSON.
func (c *comparison) result() results.Servos {
	r := results.Servos{
		About: results.Of(sheet.WithoutBlades, c.rig.Machine()), Mode: c.mode.Name(),
		Voltage: c.voltage, Speed: c.turning.Spin.At.Speed, Demand: c.demand,
	}
	for i := range c.results {
		one := &c.results[i]
		r.Compared = append(r.Compared, results.ComparedServo{Name: one.name, Own: one.own, Performance: one.Performance,
			Stiffness: one.stiffness, Verdict: verdict(one.Performance, c.rig.Limits())})
	}
	for _, a := range c.arms {
		hole := results.Arm{Radius: a.radius, Unreachable: a.why, Performance: a.performance, Stiffness: a.stiffness, Findings: a.findings}
		if a.why == "" {
			hole.Rates, hole.Step = a.trade.Transfer.Enter.Rates, a.trade.Demand.Step
		} else {
			hole.Performance = nil
		}
		r.Arms = append(r.Arms, hole)
	}
	return r
}
