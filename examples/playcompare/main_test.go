package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/show/showtest"
	"example.org/levelhead/pitch"
	"example.org/levelhead/units"
)

var command showtest.Main = run

// file writes a machine file and returns its path.
func file(t *testing.T, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "machine.json")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestText(t *testing.T) {
	showtest.InOrder(t, command.Words(t), "CAUTION", "blades on only for readings", "rotor disc", "A: Whinchat", "Invented for demonstration", "B: Turnstone", "Invented for demonstration", "worst case", "19 of 20", "Typical is an average", "Likely is larger", "A: the joints", "in the order of the larger figure", "B: the joints")
	long := bytes.ReplaceAll(demo.Direct, []byte("right rear"), []byte(strings.Repeat("x", 120)))
	command.Text(t, "-a", file(t, long))
}

func TestSeed(t *testing.T) {
	few := func(seed string) string { return command.Text(t, "-seed", seed, "-builds", "50") }
	first, again, other := few("7"), few("7"), few("8")
	if first != again {
		t.Error("the same seed gives another text")
	}
	if strings.ReplaceAll(first, "seed 7", "seed 8") == other {
		t.Error("another seed gives the same builds")
	}
}

// Random builds never go beyond the worst case. Bell cranks have more joints and more play
// than a direct plate. No joint does more alone than all together.
func TestMachines(t *testing.T) {
	o := options{seed: 3, builds: 5000}
	a, err := newPlayed("", demo.Direct, o)
	if err != nil {
		t.Fatal(err)
	}
	b, err := newPlayed("", demo.BellCranks, o)
	if err != nil {
		t.Fatal(err)
	}
	within := func(name string, small, large pitch.Play) {
		if !(small.Blade > 0 && small.Blade <= large.Blade && small.Tilt > 0 && small.Tilt <= large.Tilt) {
			t.Errorf("%s: %v is not within %v", name, small, large)
		}
	}
	for _, m := range []*played{a, b} {
		within("largest and worst", m.random.Largest, m.worst)
		within("19 of 20 and largest", m.random.P95, m.random.Largest)
		within("random builds and likely", m.random.RMS, m.likely)
		most := m.largest(len(m.joints))
		for i, c := range most {
			if c.play.Blade > m.worst.Blade || c.play.Tilt > m.worst.Tilt || i > 0 && float32(c.most()) > float32(most[i-1].most()) { // the last bits do not count
				t.Errorf("joint %d, %s, alone: %v of %v", i, c.name, c.play, m.worst)
			}
		}
	}
	if len(a.joints) >= len(b.joints) || a.worst.Blade >= b.worst.Blade {
		t.Errorf("%d joints and %v direct, %d joints and %v on bell cranks", len(a.joints), a.worst.Blade, len(b.joints), b.worst.Blade)
	}
}

// The flags replace the file's play: for both machines, and if a file gives none.
func TestPlay(t *testing.T) {
	ball, gear, bearing := units.Length(0), units.Angle(0), units.Length(0)
	still, err := newPlayed("", demo.BellCranks, options{play: play{&ball, &bearing, &gear}, builds: 10})
	if err != nil || still.worst != (pitch.Play{}) {
		t.Errorf("without play: %v, %v", still.worst, err)
	}
	const play = `"play": {"ball": "0.04 mm", "gear": "0.3°", "bearing": "0.02 mm"},`
	none := file(t, bytes.Replace(demo.Direct, []byte(play), nil, 1))
	out := command.Text(t, "-a", none, "-ball", "0.1 mm", "-gear", "0.5°", "-bearing", "0.05 mm")
	if n := strings.Count(strings.Join(strings.Fields(out), " "), "ball links 0.1 mm, servo gears 0.5°, crank bearings 0.05 mm"); n != 2 {
		t.Errorf("%d machines have the play asked for, want both:\n%s", n, out)
	}
	var errs bytes.Buffer
	if status := run([]string{"-a", none, "-ball", "0.1 mm"}, &bytes.Buffer{}, &errs); status != 1 || !strings.Contains(errs.String(), "-bearing") {
		t.Errorf("status %d, message %q; want 1 and the flags that are missing", status, &errs)
	}
}

func TestErrors(t *testing.T) {
	for _, tt := range []struct {
		args   []string
		status int
		want   string
	}{
		{[]string{"-a", "no such file.json"}, 1, "no such file.json"},
		{[]string{"-b", file(t, []byte("{"))}, 1, "machine.json"},
		{[]string{"-ball", "0.04"}, 2, "-ball"},
		{[]string{"-gear", "3 mm"}, 2, "-gear"},
		{[]string{"-ball", "-0.04 mm"}, 1, "play.ball"},
		{[]string{"-gear", "90°"}, 1, "play.gear"},
		{[]string{"-builds", "0"}, 2, "-builds must be from 1 to 1000000, not 0"},
		{[]string{"-seed", "-1"}, 2, "-seed"},
		{[]string{"machine.json"}, 2, "-a or -b"},
		{[]string{"-warp"}, 2, "-warp"},
	} {
		var out, errs bytes.Buffer
		if status := run(tt.args, &out, &errs); status != tt.status || !strings.Contains(errs.String(), tt.want) || out.Len() > 0 {
			t.Errorf("%q: status %d, message %q, printed %q; want %d and %q", tt.args, status, &errs, &out, tt.status, tt.want)
		}
	}
}

func TestSuitsTheDrive(t *testing.T) {
	command.SuitsTheDrive(t, func(machine, _ string) []string {
		return []string{"-a", machine, "-b", machine, "-ball", "0.1 mm", "-gear", "0.5°", "-bearing", "0.05 mm"}
	})
}
