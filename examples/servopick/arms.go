package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/load"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/units"
)

// arm is one of the holes of the servo arms. It is tried with the machine's own servos, or
// with the first candidate if the file does not rate them all.
type arm struct {
	radius      units.Length
	trade       *load.ArmTrade
	findings    []sheet.Finding
	performance *load.Performance
	// stiffness is the moment on each blade per radian of pitch lost, at high stick.
	stiffness units.Torque
	why       string // the arm does not reach the pitch; empty if it does
}

// arm tries arms of another hole radius.
func (c *comparison) arm(radius units.Length) arm {
	a := arm{radius: radius}
	err := c.putOn(&a)
	var target *setup.TargetError
	switch {
	case errors.As(err, &target):
		a.why = target.Error() // without what wraps it
	case err != nil:
		a.why = err.Error()
	}
	return a
}

func (c *comparison) putOn(a *arm) (err error) {
	if a.trade, err = c.turning.OnArms(a.radius); err != nil {
		return err
	}
	a.findings = sheet.OfArms(a.trade)
	ratings := c.results[0].ratings
	if a.performance, err = a.trade.Demand.Performance(ratings, c.voltage); err != nil {
		return err
	}
	on := load.Turning{Setup: a.trade.Setup, Spin: c.turning.Spin}
	a.stiffness, err = on.Stiffness(1, ratings, c.voltage)
	return err
}

// trades shows what other holes of the servo arms would change.
func (c *comparison) trades() *show.Table {
	t := &show.Table{Title: "Servo arms: the same blade pitch from another hole on all servos, with " + strings.Replace(c.results[0].name, "own: ", "the machine's own ", 1) + "," + c.only(),
		Heads: []string{"hole", "collective", "right", "forward", "load", "stroke", "stiffness", "radio step", "<"}}
	if len(c.arms) == 0 {
		return &show.Table{Title: "Servo arms: the machine file gives no arm_holes that all servos share."}
	}
	for _, a := range c.arms {
		hole := fmt.Sprintf("%.4g mm", a.radius.Millimetres())
		if a.why != "" {
			t.Add(hole, "-", "-", "-", "-", "-", "-", "-", "does not reach")
			t.Note("%s: %s.", hole, a.why)
			continue
		}
		rates := a.trade.Transfer.Enter.Rates
		t.Add(hole, show.Percent(rates.Collective), show.Percent(rates.Right), show.Percent(rates.Forward), percent(hardest(a.performance).Load), stroke(a.performance),
			stiffness(a.stiffness), fine(a.trade.Demand.Step), c.remarks(&a))
		for _, f := range a.findings {
			t.Note("%s: %s: %s.", hole, f.What, f.Figure)
		}
	}
	t.Note("Hole is the hole radius of the servo arms (also called servo horns).")
	t.Note("Collective, right and forward are the collective, right cyclic and forward cyclic rates to enter.")
	t.Note("Load, stroke, stiffness and radio step are as in the tables above, with the arm in that hole.")
	t.Note("A longer arm moves the plate faster and needs less rate. A shorter arm holds more firmly and steps finer. Cut the links to new lengths, so that the plate stands at neutral as before.")
	if len(c.rig.Modes()) > 1 {
		t.Note("Other flight modes were not looked at. holes looks at all of them.")
	}
	return t
}

// only says which flight mode alone is looked at.
func (c *comparison) only() string { return fmt.Sprintf(" in mode %q", c.mode.Name()) }

// remarks says in a few words how an arm does.
func (c *comparison) remarks(a *arm) string {
	var remarks []string
	if !slices.ContainsFunc(c.rig.Servos(), func(s setup.Servo) bool { return s.Arm != a.radius }) {
		remarks = append(remarks, "in use")
	}
	if v := verdict(a.performance, c.rig.Limits()); v != within || len(a.findings) == 0 {
		if v == within {
			v += c.only()
		}
		remarks = append(remarks, v)
	}
	for _, f := range a.findings {
		if short, ok := inShort[f.Kind]; ok && !slices.Contains(remarks, short) {
			remarks = append(remarks, short)
		}
	}
	return strings.Join(remarks, ", ")
}

// inShort are findings of package sheet in a word or two.
var inShort = map[sheet.Kind]string{
	sheet.RateTooHigh:       "rate too high",
	sheet.LimitAtCorners:    "reaches its limit",
	sheet.CornersOutOfReach: "corners out of reach",
}
