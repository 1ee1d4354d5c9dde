package main

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/show/showtest"
	"example.org/levelhead/pitch/rotor"
	"example.org/levelhead/units"
)

var command showtest.Main = run

// withoutSpeeds are the replacements that take the rotor speeds out of the demonstration
// machine's file.
var withoutSpeeds = []string{`"rotor_speed": "1700 rpm",`, "", `"rotor_speed": "1800 rpm",`, ""}

func planned(t *testing.T, o options) *plan {
	t.Helper()
	p, err := newPlan(o)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func speed(rpm units.AngularSpeed) *units.AngularSpeed {
	rpm *= units.RevolutionPerMinute
	return &rpm
}

func charge(percent units.Ratio) *units.Ratio {
	percent *= units.Percent
	return &percent
}

func TestText(t *testing.T) {
	showtest.InOrder(t, command.Words(t), "CAUTION", "blades off", "rotor disc", "Whinchat", "Invented for demonstration", "STOP: Set 0 % at low stick",
		`Flight mode "hover", rotor at 1700 rpm`, "Hover at 100 % charge: pitch", "stick", "own curve", "at 20 %", "100 %", "down to 20 % charge. The machine must be down at 20 % charge.", "furthest off at stick 0 %. It has 0 %",
		`Flight mode "aerobatic", rotor at 1800 rpm`, "100 %", "down to 20 % charge. The machine must be down at 20 % charge.", `Flight mode "glide, throttle held"`, "so no throttle is worked out", "log of a flight")
	long := showtest.File(t, demo.Direct, "aerobatic", strings.Repeat("x", 120))
	for _, args := range [][]string{{"-charge", "5 %"}, {"-speed", "100 rpm"}, {"-speed", "2800 rpm"}, {"-machine", long}} {
		if text := command.Text(t, args...); !strings.HasPrefix(text, "CAUTION") {
			t.Errorf("%q prints\n%s", args, text)
		}
	}
	one := command.Text(t, "-mode", "aerobatic")
	if !strings.Contains(one, `mode "aerobatic"`) || strings.Contains(one, `mode "hover"`) {
		t.Errorf("-mode aerobatic prints\n%s", one)
	}
}

// What the file leaves out is said in a line, and -speed replaces rotor speeds.
func TestLeftOut(t *testing.T) {
	path := showtest.File(t, demo.Direct, withoutSpeeds...)
	if out := command.Words(t, "-machine", path); strings.Count(out, "has no rotor_speed in the file") != 2 || strings.Contains(out, "own curve at 20 %") {
		t.Errorf("without rotor speeds it prints %s", out)
	}
	if out := command.Words(t, "-machine", path, "-speed", "1900 rpm"); strings.Count(out, "at 1900 rpm") != 2 {
		t.Errorf("-speed prints %s", out)
	}
	path = showtest.File(t, demo.Direct, `"mass": "3100 g",`, "")
	if out := command.Words(t, "-machine", path); !strings.Contains(out, "gives no mass, so hover is not worked out") || strings.Contains(out, "Hover") {
		t.Errorf("without mass it prints %s", out)
	}
}

// Every point either holds the speed asked for or says that it does not, and then
// gives a lower speed at full throttle.
func TestShort(t *testing.T) {
	const slack = 1e-9 // of the throttle at the best speed, which is 1e-12 on the safe side
	p := planned(t, options{speed: speed(2200), charge: charge(60)})
	held, short := 0, 0
	for i := range p.modes {
		m := &p.modes[i]
		for _, q := range m.points {
			if q.unreachable != "" {
				t.Errorf("%s, stick %v: %s", m.Name(), q.stick, q.unreachable)
			}
			for k, h := range q.held {
				throttle := h.Operation.Throttle
				switch {
				case h.Short == nil && h.Unsolved == nil:
					held++
					if q.falls(k) || h.Speed != m.spin.At.Speed || !(throttle > 0 && throttle <= 1) {
						t.Errorf("%s, stick %v: %v at throttle %v", m.Name(), q.stick, h.Speed, throttle)
					}
				default:
					short++
					if !q.falls(k) || h.Speed >= m.spin.At.Speed || !(throttle > 1-slack && throttle <= 1) {
						t.Errorf("%s, stick %v, short: %v at throttle %v", m.Name(), q.stick, h.Speed, throttle)
					}
				}
			}
		}
	}
	if held == 0 || short == 0 {
		t.Errorf("%d points held and %d short, want some of both", held, short)
	}
	if out := command.Words(t, "-speed", "2200 rpm"); !strings.Contains(out, "2200 rpm cannot be held at 20 % charge with the stick at 0 % to") {
		t.Errorf("the text does not say where the speed cannot be held: %s", out)
	}
	if out := command.Words(t); strings.Contains(out, "cannot be held") {
		t.Error("the battery cannot hold the file's speeds")
	}
}

// The battery holds the speed at the charge down to which it lasts, and not at the next
// per cent below.
func TestLasts(t *testing.T) {
	m := &planned(t, options{speed: speed(2150)}).modes[1]
	if m.lasts <= 0 || m.lasts >= 1 {
		t.Fatalf("lasts down to %v", m.lasts)
	}
	for _, tt := range []struct {
		below units.Ratio
		falls bool
	}{{0, false}, {1, true}} {
		at := m.lasts - tt.below*units.Percent
		if where := planned(t, options{speed: speed(2150), charge: &at}).modes[1].short(0); (where != "") != tt.falls {
			t.Errorf("at %v charge it falls short at stick %q", at, where)
		}
	}
}

// Nothing says that the battery holds to less than the charge to land at, of whatever
// charge the plan is.
func TestNeverBelowTheChargeToLandAt(t *testing.T) {
	for _, m := range planned(t, options{}).modes {
		if m.why == "" && m.lasts < 20*units.Percent {
			t.Errorf("mode %s lasts to %v", m.Name(), m.lasts)
		}
	}
	lowest := regexp.MustCompile(`down to (\d+)`)
	for want, args := range map[string][]string{
		"down to 20 % charge. The machine must be down at 20 % charge. Less":                nil,
		"down to 20 % charge. The machine must be down at 20 % charge. ":                    {"-charge", "20 %"},
		"Do not fly on 10 % charge. The machine must be down at 20 % charge.":               {"-charge", "10 %"},
		"It does not hold the speed down to 20 %. The machine must be down at 20 % charge.": {"-speed", "2150 rpm"},
		"with the stick at 0 % to 100 %: ":                                                  {"-speed", "3500 rpm"},
		"The machine must be down at 20 % charge.":                                          {"-speed", "2600 rpm"},
	} {
		out := command.Words(t, args...)
		if !strings.Contains(out, want) || !strings.Contains(out, "must be down") {
			t.Errorf("%q: no %q in %s", args, want, out)
		}
		for _, m := range lowest.FindAllStringSubmatch(out, -1) {
			if percent, err := strconv.Atoi(m[1]); err != nil || percent < 20 {
				t.Errorf("%q: %q", args, m[0])
			}
		}
	}
}

// What is entered at a stick gives the speed again: with the throttle as a share of the
// battery's voltage under load, less what the current takes in the motor.
func TestThrottleGivesTheSpeed(t *testing.T) {
	const rounding = 1e-9
	p := planned(t, options{})
	motor := p.rig.Machine().Power.Motor
	for _, m := range p.modes[:2] {
		for _, q := range m.points {
			o := q.held[0].Operation
			volts := float64(o.Throttle)*float64(o.BatteryVoltage) - float64(o.MotorCurrent)*float64(motor.Resistance)
			got := volts * float64(motor.SpeedPerVolt) / float64(p.rig.Machine().Power.Gear.Ratio)
			if want := float64(*m.Mode().RotorSpeed); math.Abs(got-want) > rounding*want {
				t.Errorf("%s, stick %v: %v rad/s, want %v", m.Name(), q.stick, got, want)
			}
		}
	}
}

func TestHover(t *testing.T) {
	if out := command.Words(t, "-speed", "100 rpm"); !strings.Contains(out, "Hover: the rotor cannot carry the machine") {
		t.Error("100 rpm carries the machine")
	}
	if out := command.Words(t, "-speed", "2800 rpm"); !strings.Contains(out, "but the power train cannot hold 2800 rpm") || !strings.Contains(out, "STOP: the blades' maker allows 2400 rpm") {
		t.Errorf("2800 rpm in hover: %s", out)
	}
	warm, high := rotor.Celsius(35), 1000*units.Metre
	low, thin := planned(t, options{}), planned(t, options{height: &high, temperature: &warm})
	if a, b := low.modes[0].hover[0].Pitch, thin.modes[0].hover[0].Pitch; b <= a || thin.rig.Air().Density >= low.rig.Air().Density {
		t.Errorf("hover at %v in thin air, %v in thick", b, a)
	}
	if thin.rig.Air().Temperature != warm {
		t.Errorf("air of %v, want %v", thin.rig.Air().Temperature, warm)
	}
	// The temperature of the file stays where the height alone is given.
	if p := planned(t, options{temperature: &warm}); p.rig.Machine().Field.Height != 150*units.Metre {
		t.Errorf("field at %v, want the file's 150 m", p.rig.Machine().Field.Height)
	}
}

func TestEngine(t *testing.T) {
	showtest.InOrder(t, command.Words(t, "-machine", engine), "engine with power given up to 17000 rpm", `Flight mode "hover", rotor at 1500 rpm`, "Hover: pitch", "power share 27.5 %", "speed power share 0 %", "13200 rpm", `"aerobatic", rotor at 1650 rpm`)
	if out := command.Words(t, "-machine", engine, "-speed", "800 rpm"); !strings.Contains(out, "off the power curve") || !strings.Contains(out, "800 rpm cannot be held with the stick at 0 % to 100 %") {
		t.Errorf("an engine off its power curve: %s", out)
	}
	out := command.Words(t, "-machine", engine)
	for _, not := range []string{"charge", "STOP", "own curve", "furthest off", "throttle that holds", "what to enter"} {
		if strings.Contains(out, not) {
			t.Errorf("an engine with %q: %s", not, out)
		}
	}
	if !strings.Contains(out, "Power share is the part of the engine's power that is needed. Do not enter it. Find the throttle for it by trial.") {
		t.Errorf("nothing says what power share is: %s", out)
	}
}

func TestPicture(t *testing.T) {
	showtest.InOrder(t, command.Picture(t, "-speed", "2200 rpm"), "<svg", "hover&#34;: throttle to hold 2200 rpm", "throttle to hold the speed at 100 % charge", "own curve, as the mode has it now", "rotor speed at 20 % charge", "motor current to hold the rotor speed, A")
	showtest.InOrder(t, command.Picture(t), "limit: 95 A")
	// What says stop in the text says so in the picture.
	for _, args := range [][]string{nil, {"-machine", engine}, {"-speed", "2800 rpm"}} {
		words := showtest.Pictures(t, []byte(command.Picture(t, args...)))[0]
		showtest.InOrder(t, words, "CAUTION: Take the main blades off")
		if args == nil || args[0] != "-machine" {
			showtest.InOrder(t, words, "STOP: Set 0 % at low stick in the mode you start in, whatever is needed in the air. Any throttle at low stick can turn the rotor.")
		}
		fast := strings.Contains(words, "STOP: Mode hover: the blades' maker allows 2400 rpm. A blade that comes off kills.")
		if inText := strings.Contains(command.Words(t, args...), "STOP: the blades' maker allows"); fast != inText {
			t.Errorf("%q: above the makers' speed in the picture: %v, in the text: %v", args, fast, inText)
		}
	}
	showtest.InOrder(t, command.Picture(t, "-machine", engine), "<svg", "hover&#34;: power share to hold 1500 rpm", "engine power to hold the rotor speed, W")
	if svg := command.Picture(t, "-machine", engine); strings.Contains(svg, "own curve") || strings.Contains(svg, "STOP") {
		t.Error("an engine has its power share compared with the mode's throttle curve")
	}
}

func TestSuitsTheDrive(t *testing.T) {
	command.SuitsTheDrive(t, func(machine, written string) []string { return []string{"-machine", machine, "-svg", written} })
}
