package main

import (
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"example.org/levelhead/examples/internal/show/showtest"
	"example.org/levelhead/pitch/choose"
)

var command showtest.Main = run

func TestText(t *testing.T) {
	out := command.Words(t)
	caution, _, _ := strings.Cut(out, "Whinchat")
	showtest.InOrder(t, caution, "CAUTION", "blades off", "hold on", "rotor disc", "failsafe", "law", "experienced pilot")
	showtest.InOrder(t, out, "Whinchat", "16 combinations of parts tried. 5 are within all limits looked at. 3 are among the best trade-offs.", "Invented for demonstration", "box of parts is invented",
		"as it is 12 mm 20 mm", "1 12 mm 18 mm", "3 14 mm 18 mm", "a servo would need 23 µs more than its pulse limit", "Resolution, below and in the picture, is the larger of one step and twice the deadband.", "best at", "1 resolution, servo load", "stroke 2 ms", "the 18 mm holes;", "enter new rates and curves", "2 -", "servo load 0.5 %", "sub-trims: front +22 µs,", "3 stroke", "14 mm holes of the arms", "compared in steps of", "Combinations that do not suit", "-beyond-limit", "Friction")
	if strings.Contains(out, "more than a bench sheet accepts") {
		t.Errorf("all are level:\n%s", out)
	}
	const stall, theory = "stall of a servo. Parts that touch", "Loads are theory"
	showtest.InOrder(t, out, stall, theory)
	if out := command.Words(t, "-machine", "../demo/testdata/bellcranks.json"); strings.Contains(out, "stall of a servo") || strings.Contains(out, theory) || !strings.Contains(out, "ball links. Loads were not looked at. Parts that touch") {
		t.Errorf("a file without a rotor has no loads: %s", out)
	}
	if some(0.4, 0, " ms") != "less than 1 ms" || some(0.02, 2, "°") != "0.02°" {
		t.Error("an amount above 0 is written as 0")
	}
	for _, args := range [][]string{
		{"-machine", "../demo/testdata/spatial.json", "-teeth", "-1, 0", "-balls", "26 mm, 27 mm", "-refit"},
		{"-machine", "../demo/testdata/bellcranks.json", "-pitch-horns", "18 mm, 20 mm", "-beyond-limit", "1 ms"},
	} {
		command.Text(t, args...)
	}
}

func TestFlags(t *testing.T) {
	out := command.Words(t, "-arms", "14 mm", "-pitch-horns", "18 mm,21 mm", "-workers", "1")
	showtest.InOrder(t, out, "2 combinations of parts tried. 2 are within all limits looked at. 2 are among", "21 mm", "18 mm", "front +22 µs, right rear +22 µs, left rear -22 µs", "lengthen the pitch links by half a turn", "shorten the pitch links by half a turn")
	if strings.Contains(out, "box of parts") || strings.Contains(out, "Combinations that do not suit") {
		t.Errorf("what is named by flags is no invented box, and all suit:\n%s", out)
	}
	showtest.InOrder(t, command.Words(t, "-arms", "12 mm, 14 mm", "-pitch-horns", "20 mm", "-different-arms"), "8 combinations", "14/12/12 mm", "in the order front, right rear, left rear", "our limit 0.3°; the maker's manual decides")
	showtest.InOrder(t, command.Words(t, "-arms", "14 mm", "-pitch-horns", "18 mm"), "1 combination of parts tried. 1 is within all limits looked at. 1 is among", "The best combination", "best at", "1 all")
	showtest.InOrder(t, command.Words(t, "-arms", "12 mm, 14 mm", "-pitch-horns", "20 mm", "-different-arms"), "move the servo links on the", "to the 14 mm hole")
	showtest.InOrder(t, command.Words(t, "-machine", "../demo/testdata/spatial.json", "-balls", "25 mm", "-beyond-limit", "1 ms"), "to the balls at 25 mm")
	equal := &page{Choice: &choose.Choice{Results: make([]choose.Result, 2), Front: []choose.Member{{Index: 0}, {Index: 1}}}}
	if rows := equal.trades().Rows; rows[0][1] != "equal in every point compared" || rows[1][3] != "-" {
		t.Errorf("two that are equal: %q", rows)
	}
}

// Parts that do not suit are named even where no machine can be built of them, and then
// nothing is put up for choice.
func TestNone(t *testing.T) {
	out := command.Words(t, "-arms", "3 mm", "-pitch-horns", "20 mm")
	showtest.InOrder(t, out, "0 are within all limits looked at. 0 are among", "out of reach by")
	out = command.Words(t, "-machine", "../demo/testdata/spatial.json", "-arms", "70 mm")
	showtest.InOrder(t, out, "0 are within all limits looked at. 0 are among", "do not suit", "70 mm 18 mm servo rear: an arm of 70 mm is 18.79 mm too long")
	if strings.Contains(out, "best at") {
		t.Errorf("nothing is best:\n%s", out)
	}
}

func TestPicture(t *testing.T) {
	for _, args := range [][]string{
		nil,
		{"-different-arms", "-arms", "12 mm, 14 mm", "-pitch-horns", "18 mm"},
		{"-machine", "../demo/testdata/spatial.json", "-pitch-horns", "18 mm, 20 mm"},
		{"-arms", "3 mm"}, // none suits
	} {
		svg := command.Picture(t, args...)
		for _, part := range []string{"<svg", "of each combination", "as it is"} {
			if !strings.Contains(svg, part) {
				t.Errorf("%q: no %q in the picture", args, part)
			}
		}
		decoder := xml.NewDecoder(strings.NewReader(svg))
		for {
			if _, err := decoder.Token(); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Fatalf("%q: not well-formed: %v", args, err)
			}
		}
	}
}

func TestErrors(t *testing.T) {
	for _, tt := range []struct {
		args   []string
		status int
		says   string
	}{
		{[]string{"-machine", "no such file.json"}, 1, "no such file.json"},
		{[]string{"-arms", "-8 mm"}, 1, "arms: entry 1"},
		{[]string{"-beyond-limit", "-1 µs"}, 1, "beyond limit"},
		{[]string{"-machine", "../demo/testdata/bellcranks.json", "-arms", "8 mm"}, 1, "only the pitch horns"},
		{[]string{"-arms", "8"}, 2, "needs a unit"},
		{[]string{"-arms", ""}, 2, "arms"},
		{[]string{"-teeth", "half"}, 2, `"half" is not a whole number`},
		{[]string{"machine.json"}, 2, "-machine"},
		{[]string{"-warp"}, 2, "-warp"},
	} {
		command.Fails(t, tt.status, tt.says, tt.args...)
	}
}

func TestSuitsTheDrive(t *testing.T) {
	command.SuitsTheDrive(t, func(machine, written string) []string {
		return []string{"-machine", machine, "-pitch-horns", "18 mm", "-svg", written}
	})
}
