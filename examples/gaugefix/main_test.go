package main

import (
	"bytes"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/show/showtest"
	"example.org/levelhead/pitch/machine"
)

// command is the command without a person to ask.
var command = answered("")

// answered is the command, with what a person types.
func answered(answers string) showtest.Main {
	return func(args []string, stdout, stderr io.Writer) int {
		return run(args, bytes.NewReader([]byte(answers)), stdout, stderr)
	}
}

const header = "what,which,mode,stick,right,forward,bearing,reads\n"

// readings writes a readings file of some rows and returns its path.
func readings(t *testing.T, rows ...string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "readings.csv")
	if err := os.WriteFile(path, []byte(header+strings.Join(rows, "\n")+"\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// sound are readings of a build that is as its file says, to a degree.
var sound = []string{
	"blade,1,aerobatic,0 %,,,,-11°", "blade,1,aerobatic,50 %,,,,0°", "blade,1,aerobatic,100 %,,,,11°",
	"blade,2,aerobatic,0 %,,,,-11°", "blade,2,aerobatic,50 %,,,,0°", "blade,2,aerobatic,100 %,,,,11°",
	"blade,1,hover,0 %,,,,-3°", "blade,1,hover,50 %,,,,5°", "blade,1,hover,100 %,,,,9°",
	"tilt right,,hover,50 %,,,,0°", "tilt forward,,hover,50 %,,,,0°", "arm,front,hover,50 %,,,,8°",
}

func TestText(t *testing.T) {
	showtest.InOrder(t, command.Words(t), "CAUTION: Take the main blades off", "blades on only for readings", "rotor disc", "Whinchat", "Invented for demonstration", "readings are invented",
		"What to do, in this order", "1. Right rear servo link: lengthen by one and a half turns.", "collective and cyclic at zero: +1.2° on blade 1 and +0.2° on blade 2, within 0.7°", "2. Blade 1: shorten the pitch link by one turn.", "Set the sub-trim of the front servo from 0 µs to +7 µs",
		"one turn of one ball link", "Never correct pitch with one servo's end points", "-save write it",
		`in mode "aerobatic"`, "collective stick at 0 %", "-11.00° -9.9", "Wanted is",
		"What to read next", "now known within", "level", "cyclic stick centred is listed first", "blade over the tail (180°)", "1 % or less",
		"Known only together", "reading 1 by +1.0", "° - reading 4 by", "° - reading 8 by", "Unknown", "low end point", "19 of 20 cases",
		`1 blade 1 over the tail (180°), mode "aerobatic", stick 0 % -10.00°`, "tilt to the right", "Calculated is", "Difference is read minus calculated")
}

// The example is the invented session, which can be read back.
func TestExample(t *testing.T) {
	text := command.Text(t, "-example")
	if text != string(example) {
		t.Errorf("got %s", text)
	}
	path := filepath.Join(t.TempDir(), "readings.csv")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	const invented = "The readings are invented as well.\n"
	own, read := command.Text(t), command.Text(t, "-readings", path)
	if strings.Contains(read, invented) || strings.Replace(own, invented, "", 1) != read {
		t.Errorf("read back:\n%s", read)
	}
}

func TestWithin(t *testing.T) {
	showtest.InOrder(t, command.Words(t, "-readings", readings(t, sound...)), "CAUTION", "What to do: These readings ask for no change", "half a gauge step, 0.5°, of what is wanted", "Only blade pitch was looked at", "binding", "were not", `Blade pitch in mode "hover", now sticks`, "arm angle of the front servo")
}

// A build whose blades move too little is helped by its rates, and by nothing else.
func TestRates(t *testing.T) {
	file := readings(t, "blade,1,aerobatic,0 %,,,,-10°", "blade,1,aerobatic,50 %,,,,0°", "blade,1,aerobatic,100 %,,,,10°",
		"blade,2,aerobatic,0 %,,,,-10°", "blade,2,aerobatic,50 %,,,,0°", "blade,2,aerobatic,100 %,,,,10°")
	words := command.Words(t, "-readings", file)
	showtest.InOrder(t, words, "What to do, in this order", `Mode "aerobatic": set the collective rate from 52 % to`, "stick at 0 %: -",
		"stick at 50 %: 0.0°", "stick at 100 %: +", "cyclic rate from 76 % to", "full ", "new sub-trims, rates and curves into the machine file", "when all steps are done")
	if strings.Contains(words, "en by ") || strings.Contains(words, "sub-trim from") {
		t.Errorf("more than rates:\n%s", words)
	}
}

// What is off by less than the coarse steps of a radio mend is left, and nobody is sent to
// measure it for ever.
func TestCoarse(t *testing.T) {
	machine := showtest.File(t, demo.Direct, `"step": "1°"`, `"step": "0.1°"`, `"pulse_step": "1 µs", "percent_step": "0.5 %"`, `"pulse_step": "20 µs", "percent_step": "5 %"`)
	var rows []string
	for _, blade := range []string{"1", "2"} {
		for _, at := range []string{
			"aerobatic,0 %,,,,-10.6°", "aerobatic,25 %,,,,-5.4°", "aerobatic,50 %,,,,0°", "aerobatic,75 %,,,,5.4°", "aerobatic,100 %,,,,10.8°",
			"aerobatic,50 %,100 %,,,8.5°", "aerobatic,50 %,,100 %,90°,8.5°",
		} {
			rows = append(rows, "blade,"+blade+","+at)
		}
	}
	words := command.Words(t, "-machine", machine, "-readings", readings(t, rows...), "-zero", "0°", "-repeat", "0.02°")
	showtest.InOrder(t, words, "What to do: No half turn of a link and no step of the radio makes it better", `Blade pitch in mode "aerobatic", now`)
}

// Where next to nothing was read, nothing is found wrong, and nobody is told to stop.
func TestDoubtful(t *testing.T) {
	words := command.Words(t, "-readings", readings(t, "blade,1,hover,50 %,,,,5°"))
	showtest.InOrder(t, words, "What to do: measure first", "say too little", "What to read before you change anything")
	if strings.Contains(words, "ask for no change") {
		t.Errorf("told to stop:\n%s", words)
	}
}

// Blades that are off, read with a gauge that may be far off itself, are measured again first.
func TestUnsure(t *testing.T) {
	file := readings(t, "blade,1,hover,50 %,,,,7°")
	showtest.InOrder(t, command.Words(t, "-readings", file, "-zero", "2°", "-repeat", "1°"), "CAUTION", "What to do: measure first", "What to read before you change anything")
}

// A reading that does not go with the others is named, and left out.
func TestOutlier(t *testing.T) {
	rows := append([]string{"blade,2,hover,100 %,,,,5°"}, sound...)
	showtest.InOrder(t, command.Words(t, "-readings", readings(t, rows...)), "CAUTION", "Reading 1 does not go with the others", "-4.", "(within ", "What to do: First read reading 1 again. It was left out.", "ask for no change", "LEFT OUT")
}

// Several that do not go with the others may all have been taken wrong: nothing is to be
// turned before they are read again.
func TestOutliersTogether(t *testing.T) {
	rows := append([]string{"tilt right,,hover,0 %,,,,5°", "tilt right,,hover,100 %,,,,5°"}, sound...)
	showtest.InOrder(t, command.Words(t, "-readings", readings(t, rows...)), "Reading 1 does not go", "Reading 2 does not go", "Turn nothing before you have read these again", `Blade pitch in mode "hover", now`, "LEFT OUT")
	one := append([]string{"blade,2,hover,100 %,,,,5°"}, sound...)
	if words := command.Words(t, "-readings", readings(t, one...)); strings.Contains(words, "Turn nothing") {
		t.Errorf("for one reading:\n%s", words)
	}
}

// The file that is saved is the machine as the radio is then set: readings of a build that
// the steps have put right are within it.
func TestSave(t *testing.T) {
	path := filepath.Join(t.TempDir(), "after.json")
	command.Text(t, "-save", path)
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	m, err := machine.Parse(data)
	if err != nil {
		t.Fatal(err)
	}
	if trim := m.Plate.Legs[2].Servo.SubTrim; math.Abs(trim.Microseconds()-7) > 1e-9 || m.Modes[1].Rates == nil {
		t.Errorf("the left rear servo's sub-trim is %v, mode aerobatic has rates %v", trim, m.Modes[1].Rates)
	}
	showtest.InOrder(t, command.Words(t, "-machine", path, "-readings", readings(t, sound...)), `Blade pitch in mode "hover", now`, "Readings")
}

func TestOutOfReach(t *testing.T) {
	machine := showtest.File(t, demo.Direct, `{"stick": "100 %", "pitch": "12°"}`, `{"stick": "100 %", "pitch": "60°"}`)
	showtest.InOrder(t, command.Words(t, "-machine", machine, "-readings", readings(t, "blade,1,hover,50 %,,,,5°")), `OUT OF REACH: mode "glide, throttle held"`)
}

func TestMachines(t *testing.T) {
	if out := command.Text(t, "-machine", showtest.File(t, demo.BellCranks), "-readings", readings(t, "blade,1,hover,50 %,,,,5°")); strings.Contains(out, "That tilts the swashplate") {
		t.Errorf("bell cranks do not tilt:\n%s", out)
	}
	long := strings.Repeat("x", 120)
	command.Text(t, "-machine", showtest.File(t, demo.Direct, "right rear", long, `"aerobatic"`, `"`+long+`"`), "-readings", readings(t, "blade,1,"+long+",0 %,,,,-10°"))
}

func TestSuitsTheDrive(t *testing.T) {
	command.SuitsTheDrive(t, func(machine, written string) []string { return []string{"-machine", machine, "-ask", "-svg", written} })
}
