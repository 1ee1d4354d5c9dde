package main

import (
	"errors"
	"fmt"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/files"
	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/gauge"
	"example.org/levelhead/pitch/setup"
)

// session is a machine on the bench, and what was read on it.
type session struct {
	*gauge.Session
	rig      *setup.Rig
	blades   int
	pitch    gauge.Instrument // the gauge that goes on the blades
	readings []gauge.Reading
	file     string // of the readings, or what stands for it
	lines    []int  // of the readings in it
	invented bool
}

// newSession sets the session up, with the readings of the file if there is one.
func newSession(o options) (*session, error) {
	rig, err := show.Rig(o.machine, demo.Direct)
	if err != nil {
		return nil, err
	}
	b := &session{rig: rig, blades: o.blades, pitch: gauge.PitchGauge(rig)}
	if rotor := rig.Machine().Rotor; b.blades == 0 && rotor != nil {
		b.blades = rotor.Blades
	} else if b.blades == 0 {
		b.blades = 2
	}
	if o.zero != nil {
		b.pitch.Zero = *o.zero
	}
	if o.repeat != nil {
		b.pitch.Repeat = *o.repeat
	}
	tools := []gauge.Instrument{b.pitch}
	if o.level != 0 {
		tools = append(tools, gauge.Level(o.level))
	}
	if o.protractor != 0 {
		tools = append(tools, gauge.Protractor(o.protractor))
	}
	if b.Session, err = gauge.NewSession(rig, b.blades, gauge.DefaultTolerances(), tools...); err != nil {
		return nil, err
	}
	return b, b.load(o)
}

// load reads the readings, and checks that they can be what they say.
func (b *session) load(o options) error {
	data := example
	b.file = "the invented session"
	switch {
	case o.readings != "":
		var err error
		if data, err = files.Read(o.readings, maxFile); err != nil {
			return err
		}
		b.file = o.readings
	case o.ask:
		return nil
	default:
		b.invented = true
	}
	var err error
	if b.readings, b.lines, err = parse(data, b.rig, b.blades); err != nil {
		return fmt.Errorf("%s: %w", b.file, err)
	}
	_, err = b.Fit(b.readings)
	var reading *gauge.ReadingError
	switch {
	case errors.As(err, new(*gauge.MisfitError)):
		return nil // it is reported with the readings
	case errors.As(err, &reading):
		return fmt.Errorf("%s: %w", b.file, &lineError{b.lines[reading.Index], columnOf(reading.What.Field), errors.New(reading.What.Reason)})
	}
	return b.blame(err)
}

// blame says where the readings stand of which an error speaks as a whole.
func (b *session) blame(err error) error {
	if err == nil || len(b.lines) == 0 || len(b.lines) < len(b.readings) {
		return err
	}
	if len(b.lines) == 1 {
		return fmt.Errorf("%s, line %d: %w", b.file, b.lines[0], err)
	}
	return fmt.Errorf("%s, lines %d to %d: %w", b.file, b.lines[0], b.lines[len(b.lines)-1], err)
}

// columnOf returns the column of a readings file that a field of a reading comes from.
func columnOf(field string) string {
	switch field {
	case "Gauge", "Of":
		return "what"
	case "Blade", "Servo":
		return "which"
	case "Value":
		return "reads"
	case "Mode":
		return "mode"
	case "Bearing":
		return "bearing"
	case "Stick.Right":
		return "right"
	case "Stick.Forward":
		return "forward"
	}
	return "stick"
}

// findings are what the readings say.
type findings struct {
	*session
	misfit *gauge.MisfitError // where they do not belong to this machine; all else is then nil
	result *gauge.Result
	fix    *gauge.Correction
	plan   *gauge.Plan // what to measure next
}

// find fits the readings, and works out what to do.
func (b *session) find() (*findings, error) {
	f := &findings{session: b}
	var err error
	if f.result, err = b.Fit(b.readings); errors.As(err, &f.misfit) {
		return f, nil
	}
	if err != nil {
		return nil, err
	}
	if f.fix, err = f.result.Correct(); err != nil {
		return nil, err
	}
	const suggestions = 3
	f.plan, err = f.result.Next(suggestions)
	return f, err
}
