package main

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"example.org/levelhead/examples/internal/show/showtest"
	"example.org/levelhead/units"
)

func TestAsk(t *testing.T) {
	words := answered("9,5\nnine\nskip\n55\n\n").Words(t, "-ask")
	showtest.InOrder(t, words, "CAUTION: Take the main blades off", "empty line to finish", "0 readings", "known within ",
		"read? >", `"9,5" has a comma; write a point, such as 9.5`, "read? >", `"nine" is not an angle`, "read? >", "read? >", "not taken", "off the scale",
		"read? > Whinchat", "No readings yet")
	if strings.Count(words, "CAUTION") != 1 {
		t.Errorf("cautions once, not\n%s", words)
	}
	// A question that was skipped is not asked again.
	questions := strings.Split(words, "read? >")
	_, last, _ := strings.Cut(questions[0], "known within ")
	_, last, _ = strings.Cut(last, " ")
	if last == "" || !strings.Contains(questions[1], last) || strings.Contains(questions[3], last) {
		t.Errorf("%q in %q", last, questions)
	}
	// The end of the input is as an empty line.
	showtest.InOrder(t, answered("skip").Words(t, "-ask"), "read? > ", "read? > Whinchat")
}

// An answer of any length is asked for again, and a line without an end ends the asking.
func TestAskLong(t *testing.T) {
	long := strings.Repeat("9", 200_000)
	words := answered(long+"\nskip\n"+strings.Repeat("é", maxAnswer)+"\n\n").Words(t, "-ask")
	showtest.InOrder(t, words, "read? > An answer of 200000 characters is too long. Write one like 9.5", "read? >", "read? >", "is not an angle", "read? > Whinchat")
	words = answered(strings.Repeat(long, 10)+"\nskip\n").Words(t, "-ask")
	showtest.InOrder(t, words, "read? > A line of more than 1048576 bytes is not an answer. Nothing more is asked.", "Whinchat", "No readings yet")
	if n := strings.Count(words, "read? >"); n != 1 {
		t.Errorf("asked %d times", n)
	}
}

// Answers that go with the machine file are asked for until no more is worth reading.
func TestAskStops(t *testing.T) {
	b, err := newSession(options{ask: true})
	if err != nil {
		t.Fatal(err)
	}
	var answers bytes.Buffer
	count, candidates := 0, b.Candidates()
	before := units.Angle(1)
	for {
		result, err := b.Fit(b.readings)
		if err != nil {
			t.Fatal(err)
		}
		plan, err := result.Next(1, candidates...)
		if err != nil {
			t.Fatal(err)
		}
		if plan.Now >= before {
			t.Errorf("%v after %v", plan.Now, before)
		}
		before = plan.Now
		if len(plan.Take) == 0 {
			break
		}
		value := units.Round(plan.Take[0].Expect, 1)
		fmt.Fprintf(&answers, "%v\n", value.Degrees())
		if err := b.take(plan.Take[0].Candidate, fmt.Sprint(value.Degrees())); err != nil {
			t.Fatal(err)
		}
		count++
	}
	words := answered(answers.String()+"never read\n").Words(t, "-ask", "-level", "0°", "-protractor", "0°")
	if n := strings.Count(words, "read? >"); n != count || strings.Contains(words, "never read") {
		t.Errorf("%d questions for %d answers:\n%s", n, count, words)
	}
	showtest.InOrder(t, words, "1 reading: ", "2 readings: ", fmt.Sprintf("%d readings: blade pitch is known within %s", count, within(before)), "No further question would tell much more", "Whinchat", "ask for no change", "No further reading")
}

// A reading that does not go with the others can be struck.
func TestAskUndo(t *testing.T) {
	file := readings(t, sound...)
	words := answered("undo\nundo\n\n").Words(t, "-ask", "-readings", file)
	showtest.InOrder(t, words, "12 readings", "11 readings", "10 readings", "ask for no change")
	words = answered("9.5\nundo\n\n").Words(t, "-ask", "-level", "0°")
	showtest.InOrder(t, words, "0 readings", "does not go with the machine file", "0 readings", "No readings yet")
	file = readings(t, "blade,1,hover,100 %,,,,-9.5°")
	words = answered("undo\n\n").Words(t, "-ask", "-readings", file)
	showtest.InOrder(t, words, "does not go with the machine file", "read? >", "0 readings", "No readings yet")
}
