//go:build unix

// Command race times the library's exact pose and the yardstick, the same equations in
// plain C, in turn and by processor time, on the same plate and the same arm angles. It
// prints their ratios. It needs a C compiler as cc, on Linux for the processor's name.
//
//	go run ./testdata/race
package main

import (
	"fmt"
	"log"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"syscall"

	"example.org/levelhead/curve"
	"example.org/levelhead/pitch"
	"example.org/levelhead/servo"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

const (
	rounds = 5       // each of the yardstick and ours
	repeat = 7       // the best of so many, as the yardstick does
	laps   = 200_000 // poses in each
	sets   = 8192    // different arm angles
	mm     = units.Millimetre
)

func main() {
	log.SetFlags(0)
	dir, err := os.MkdirTemp("", "yardstick")
	check(err)
	defer os.RemoveAll(dir)
	pose := filepath.Join(dir, "pose")
	c := exec.Command("cc", "-O3", "-march=native", "-o", pose, "testdata/yardstick/pose.c", "-lm")
	c.Stderr = os.Stderr
	check(c.Run())

	runs := racers()
	times := make([][]float64, len(runs))
	var yardsticks []float64
	for range rounds {
		yardstick := yardstickTime(pose)
		yardsticks = append(yardsticks, yardstick)
		for i, r := range runs {
			times[i] = append(times[i], best(r.lap))
		}
	}
	fmt.Printf("%s, %s\n", processor(), runtime.Version())
	fmt.Printf("%-28s %5.0f ns\n", "the yardstick, from cold", median(yardsticks))
	for i, r := range runs {
		ratios := make([]float64, rounds)
		for k := range ratios {
			ratios[k] = times[i][k] / yardsticks[k]
		}
		fmt.Printf("%-28s %5.0f ns, %.2f of the yardstick\n", r.name, median(times[i]), median(ratios))
	}
	fmt.Printf("%-28s %5.2f\n", "stick to blade over a pose", median(times[2])/median(times[0]))
}

func check(err error) {
	if err != nil {
		log.Fatal(err)
	}
}

// racer is one thing to time; lap does it for set i.
type racer struct {
	name string
	lap  func(i int) error
}

func racers() []racer {
	plate, head := machine()
	arms := make([][]units.Angle, sets)
	near := make([]swash.Pose, sets)
	for i := range arms {
		part := func(most float64, prime int) units.Angle {
			return units.Angle(most*float64((i*prime)%2001-1000)/1000) * units.Degree
		}
		a, b, c := part(30, 7919), part(12, 104729), part(12, 1299709)
		arms[i] = []units.Angle{a + b, a - 0.5*b + c, a - 0.5*b - c}
		off := slices.Clone(arms[i])
		for k := range off {
			off[k] += units.Angle(0.1*float64(1-2*(i>>k&1))) * units.Degree
		}
		var err error
		near[i], err = plate.Pose(off)
		check(err)
	}
	line, err := curve.New(curve.Polyline, []curve.Point{{X: 0, Y: -1}, {X: 1, Y: 1}})
	check(err)
	mode := pitch.Setting{Pitch: line, Expo: 0.2, Rates: swash.Rates{Collective: 0.5, Right: 0.4, Forward: 0.45}}
	state := head.Drive.NewState()
	return []racer{
		{"a pose, from cold", func(i int) error {
			_, err := plate.Pose(arms[i])
			return err
		}},
		{"a pose, from one near", func(i int) error {
			_, err := plate.PoseNear(near[i], arms[i])
			return err
		}},
		{"stick to blade", func(i int) error {
			part := func(prime int) float64 { return float64((i*prime)%2001-1000) / 1000 }
			demand, err := mode.Demand(pitch.Stick{Collective: 0.5 + 0.5*part(7919), Right: part(104729), Forward: part(1299709)})
			if err != nil {
				return err
			}
			_, _, err = head.Blade(state, units.Angle(part(15485863)), demand)
			return err
		}},
	}
}

// machine is the yardstick's plate, and a head on it.
func machine() (*swash.Plate, *pitch.Head) {
	const height = 60 * mm
	spec := swash.PlateSpec{Height: height, Guide: swash.GuideAt(180 * units.Degree)}
	layout := swash.ThreeAt120(60*units.Degree, 22*mm)
	for _, ball := range layout {
		leg, err := swash.Upright(ball, height, 16*mm, 55*mm, swash.Outward)
		check(err)
		spec.Legs = append(spec.Legs, leg)
	}
	plate, err := swash.NewPlate(spec)
	check(err)
	s := servo.Servo{
		Neutral: 1520 * units.PulseMicrosecond, Throw: 400 * units.PulseMicrosecond, Travel: 40 * units.Degree,
		Low: 1, High: 1, Min: 900 * units.PulseMicrosecond, Max: 2140 * units.PulseMicrosecond,
	}
	drive, err := swash.NewDrive(plate, []servo.Servo{s, s, s}, layout.Mix())
	check(err)
	grip := pitch.GripSpec{
		RingRadius: 16 * mm, Phase: 80 * units.Degree, HubHeight: 105 * mm, Horn: 20 * mm, HornX: 4 * mm,
		Turn: pitch.Clockwise, Side: pitch.Leading,
	}
	grip.Link, err = grip.LinkFor(0, height)
	check(err)
	g, err := pitch.NewGrip(grip, height)
	check(err)
	return plate, &pitch.Head{Drive: drive, Grip: g}
}

// best returns the processor time of a lap in ns: the best of some runs.
func best(lap func(i int) error) float64 {
	least := math.Inf(1)
	for range repeat {
		start := processorTime()
		for i := range laps {
			check(lap(i % sets))
		}
		least = min(least, (processorTime()-start)/laps)
	}
	return least
}

// processorTime returns what this process has used, in ns.
func processorTime() float64 {
	var u syscall.Rusage
	check(syscall.Getrusage(syscall.RUSAGE_SELF, &u))
	return float64(u.Utime.Nano() + u.Stime.Nano())
}

var took = regexp.MustCompile(`from cold: (\d+) ns`)

func yardstickTime(pose string) float64 {
	out, err := exec.Command(pose).Output()
	check(err)
	m := took.FindSubmatch(out)
	if m == nil {
		log.Fatalf("the yardstick prints no time: %s", out)
	}
	ns, err := strconv.ParseFloat(string(m[1]), 64)
	check(err)
	return ns
}

func median(x []float64) float64 {
	x = slices.Sorted(slices.Values(x))
	return x[len(x)/2]
}

// processor returns the processor's name where the system tells it.
func processor() string {
	info, _ := os.ReadFile("/proc/cpuinfo")
	if m := regexp.MustCompile(`model name\s*: (.*)`).FindSubmatch(info); m != nil {
		return string(m[1])
	}
	return runtime.GOARCH
}
