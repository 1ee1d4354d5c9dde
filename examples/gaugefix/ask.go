package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/gauge"
	"example.org/levelhead/units"
)

// ask asks for readings one at a time, the one that tells most first, and adds them to
// the session. It stops at an empty line, at the end of the input, or where nothing more is
// worth reading.
func (b *session) ask(in io.Reader, out io.Writer) error {
	show.Print(out, "", "", "Type what the gauge shows, such as 9.5 or -0.5°. Type \"skip\" for another question, or \"undo\" to strike the last reading. Type an empty line to finish.")
	answers := bufio.NewReader(in)
	options := b.Candidates()
	result, err := b.fit(out)
	if err == nil && result == nil { // ask as of a machine of which nothing is known
		result, err = b.Fit(nil)
	}
	if err != nil {
		return err
	}
	for {
		plan, err := next(result, options)
		if err != nil {
			return err
		}
		if len(plan.Take) == 0 {
			show.Print(out, "", "  ", "No further question would tell much more.")
			fmt.Fprintln(out)
			return nil
		}
		question := plan.Take[0].Candidate
		show.Print(out, "", "  ", "Next: "+b.Describe(question.Point)+". What does the "+question.Gauge+" read?")
		fmt.Fprint(out, "> ")
		answer, err := readAnswer(answers)
		long := (*longError)(nil)
		switch {
		case errors.As(err, &long):
			show.Print(out, "", "  ", long.Error())
			if long.Ends {
				continue // or else it is as an empty line, for no other comes
			}
		case err != nil:
			return err
		}
		switch answer = strings.ToLower(answer); answer {
		case "":
			fmt.Fprintln(out)
			return nil
		case "skip":
			options = slices.DeleteFunc(options, func(c gauge.Candidate) bool { return c == question })
			continue
		case "undo":
			b.readings = b.readings[:max(0, len(b.readings)-1)]
			options = b.Candidates()
		default:
			if err := b.take(question, answer); err != nil {
				show.Print(out, "", "  ", err.Error())
				continue
			}
			options = slices.DeleteFunc(options, func(c gauge.Candidate) bool { return c == question })
		}
		fresh, err := b.fit(out)
		if err != nil {
			return err
		}
		if fresh != nil {
			result = fresh
		}
	}
}

// next returns the plan of one more reading; an empty one where there are no options.
func next(result *gauge.Result, options []gauge.Candidate) (*gauge.Plan, error) {
	if len(options) == 0 {
		return &gauge.Plan{}, nil // none given would stand for all of them
	}
	return result.Next(1, options...)
}

// take adds the answer to a question to the readings.
func (b *session) take(question gauge.Candidate, answer string) error {
	value, err := units.Parse[units.Angle](answer)
	if errors.Is(err, units.ErrNoUnit) {
		value, err = units.Parse[units.Angle](answer + "°")
	}
	switch {
	case errors.Is(err, units.ErrComma):
		return fmt.Errorf("%q has a comma; write a point, such as 9.5", answer)
	case err != nil:
		return fmt.Errorf("%q is not an angle; write one like 9.5 or -0.5°, or skip, undo or an empty line", answer)
	}
	readings := append(slices.Clone(b.readings), gauge.Reading{Point: question.Point, Gauge: question.Gauge, Value: value})
	var reading *gauge.ReadingError
	if _, err := b.Fit(readings); errors.As(err, &reading) {
		return fmt.Errorf("the answer is not taken: it %s", reading.What.Reason)
	} else if err != nil && !errors.As(err, new(*gauge.MisfitError)) {
		return err
	}
	b.readings = readings
	return nil
}

// fit fits the readings so far and says in a line how well blade pitch is known. There is
// no result where they do not belong to this build.
func (b *session) fit(out io.Writer) (*gauge.Result, error) {
	result, err := b.Fit(b.readings)
	if errors.As(err, new(*gauge.MisfitError)) {
		show.Print(out, "", "  ", "That does not go with the machine file and the other readings. Check the sign, the stick, and how the gauge is clamped. Type \"undo\" to strike it. If it is right, go on: more readings can tell what is wrong.")
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	plan, err := result.Next(0)
	if err != nil {
		return nil, err
	}
	line := fmt.Sprintf("%d readings: blade pitch is known within %s.", len(b.readings), within(plan.Now))
	if len(b.readings) == 1 {
		line = strings.Replace(line, "readings", "reading", 1)
	}
	for _, o := range result.Outliers {
		line += fmt.Sprintf(" Reading %d does not go with the others and is left out.", o.Index+1)
	}
	show.Print(out, "", "  ", line)
	fmt.Fprintln(out)
	return result, nil
}
