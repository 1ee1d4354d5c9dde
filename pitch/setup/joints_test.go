package setup_test

import (
	"bytes"
	"errors"
	"math"
	"strings"
	"testing"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
	"github.com/google/go-cmp/cmp"
)

// The joints of a mixing arm and its washout come with those of the links.
func TestFlybarJoints(t *testing.T) {
	r := rigtest.Build(t, rigtest.Read(t, rigtest.Demos+"flybar.json"))
	play := machine.Play{Ball: 0.04 * units.Millimetre, Bearing: 0.02 * units.Millimetre}
	joints, err := r.Joints(play, swash.Demand{})
	if err != nil {
		t.Fatal(err)
	}
	byName := map[string]pitch.Joint{}
	for _, j := range joints {
		byName[j.Name] = j
	}
	link := byName["pitch link, lower ball"].Blade
	plate := 24. / 32 // of the pitch link's travel, by the mixing arm's lengths
	for name, share := range map[string]float64{
		"mixing arm, plate's ball":  plate,
		"mixing arm, flybar's ball": 1 - plate,
		"flybar, on its pin":        1 - plate,
		"washout arm, ring's ball":  plate * 16 / 14,
		"washout arm, on its pin":   plate * (1 + 16./14),
	} {
		j, ok := byName[name]
		if !ok || math.Abs(j.Blade-share*link) > 1e-12*math.Abs(link) || j.Half == 0 {
			t.Errorf("%s: %+v, want a share of %v of %v", name, j, share, link)
		}
	}
}

// Faults in a bell crank's chain name the field, its line and the amount.
func TestChainFaults(t *testing.T) {
	data := rigtest.Read(t, rigtest.Demos+"bellcranks.json")
	for _, c := range []struct{ old, new, path, says string }{
		{`"link": "36 mm"`, `"link": "500 mm"`, "plate.bell_cranks.collective.chain[0].arm_to_arm.link", "too long by"},
		{`"radius": "11 mm"`, `"radius": "0 mm"`, "plate.bell_cranks.collective.chain[0].arm_to_arm.driving.radius", "must be from"},
		{`"neutral": {"x": 0, "y": 1, "z": 0}, "radius": "13 mm"}`, `"neutral": {"x": 1, "y": 1, "z": 0}, "radius": "13 mm"}`, "plate.bell_cranks.collective.chain[1].arm_to_line.arm.neutral", "square to Axis"},
		{`"arm_to_arm": {`, `"lever": {"ratio": 1}, "arm_to_arm": {`, "plate.bell_cranks.collective.chain[0]", "one of"},
		{`"mixing": "one each"`, `"mixing": "layout"`, "radio.mixing", "one each"},
	} {
		if !bytes.Contains(data, []byte(c.old)) {
			t.Fatalf("no %q", c.old)
		}
		_, err := rigtest.Open(bytes.Replace(data, []byte(c.old), []byte(c.new), 1))
		var field *machine.FieldError
		if !errors.As(err, &field) || field.Path != c.path || field.Line == 0 || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v; want %s, %q", c.new, err, c.path, c.says)
		}
	}
}

// The drawing shows arms and links where the machine file puts them.
func TestPlan(t *testing.T) {
	const mm = units.Millimetre
	point := func(x, y, z float64) linkage.Point {
		return linkage.Point{X: units.Length(x) * mm, Y: units.Length(y) * mm, Z: units.Length(z) * mm}
	}
	end := func(x, y, z float64) *linkage.Point { p := point(x, y, z); return &p }
	rear := func(r, z float64, side float64) linkage.Point { return point(side*r*math.Sqrt(3)/2, -r/2, z) }
	for name, want := range map[string][]setup.PlanArm{
		"direct": {
			{Name: "front", Shaft: point(0, 18, 2), Tip: point(0, 30, 2), End: point(0, 30, 60)},
			{Name: "right rear", Shaft: rear(18, 2, 1), Tip: rear(30, 2, 1), End: rear(30, 60, 1)},
			{Name: "left rear", Shaft: rear(18, 2, -1), Tip: rear(30, 2, -1), End: rear(30, 60, -1)},
		},
		"bellcranks": {
			{Name: "collective", Shaft: point(0, -62, 24), Tip: point(0, -62, 35), End: point(0, -26, 35), EndShaft: end(0, -26, 24)},
			{Name: "collective", Shaft: point(0, -26, 24), Tip: point(0, -13, 24), End: point(0, -13, 66)},
			{Name: "right", Shaft: point(18, -46, 12), Tip: point(31, -46, 12), End: point(31, 0, 12), EndShaft: end(18, 0, 12)},
			{Name: "right", Shaft: point(18, 0, 12), Tip: point(31, 0, 12), End: point(31, 0, 66), EndShaft: end(0, 0, 66)},
			{Name: "forward", Shaft: point(0, 19, 12), Tip: point(0, 31, 12), End: point(0, 31, 66), EndShaft: end(0, 0, 66)},
		},
	} {
		plan, err := rigtest.Build(t, rigtest.Read(t, rigtest.Demos+name+".json")).Plan()
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(want, plan, cmp.Comparer(func(a, b units.Length) bool { return math.Abs(float64(a-b)) < 1e-12 })); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
	// A link of another length turns what stands behind it, and a lever is left out.
	plan, err := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"bellcranks.json"), func(m *machine.Machine) {
		b := m.Plate.BellCranks
		b.Right.Chain[0].ArmToArm.Link += 2 * mm
		ratio := 0.5
		b.Forward.Chain = append([]machine.Member{{Lever: &machine.Lever{Ratio: &ratio}}}, b.Forward.Chain...)
	}).Plan()
	if err != nil {
		t.Fatal(err)
	}
	if len(plan) != 5 {
		t.Fatalf("%+v", plan)
	}
	for i, link := range []units.Length{36 * mm, 42 * mm, 48 * mm, 54 * mm, 54 * mm} {
		if got := between(plan[i].Tip, plan[i].End); math.Abs(float64(got-link)) > 1e-12 {
			t.Errorf("%s: the link is %v long, want %v", plan[i].Name, got, link)
		}
	}
	if a, b := plan[2], plan[3]; a.End.Y <= 1*mm || math.Abs(float64(b.Tip.Z-12*mm)) < 1e-4 {
		t.Errorf("the crank has not turned: %+v, %+v", a, b)
	}
}

func between(a, b linkage.Point) units.Length {
	return units.Length(math.Hypot(math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y)), float64(a.Z-b.Z)))
}

// Every joint with play is there by name, with half of its play, and moves the
// blade as the machine does that has the joint's place changed.
func TestJoints(t *testing.T) {
	demand := swash.Demand{Collective: 0.2, Right: 0.15, Forward: -0.1}
	play := machine.Play{Ball: 0.04 * units.Millimetre, Gear: 0.3 * units.Degree, Bearing: 0.02 * units.Millimetre}
	const (
		exactly = 0.01 // of a difference over steps of a few hundredths of a millimetre
		by      = 0.02 * units.Millimetre
		turn    = 0.02 * units.Degree
	)
	check := func(r *setup.Rig, joints pitch.Joints, name string, half, by float64, changed *pitch.Head) {
		t.Helper()
		read := func(h *pitch.Head) (units.Angle, swash.Pose) {
			p, pose, err := h.Blade(h.Control.NewState(), r.Gauge().Bearing, demand)
			if err != nil {
				t.Fatal(err)
			}
			return p, pose
		}
		was, wasPose := read(r.Head())
		is, isPose := read(changed)
		want := float64(is-was) / by
		tilt := isPose.Tilt.Sub(wasPose.Tilt)
		seen := 0
		for _, j := range joints {
			if j.Name != name {
				continue
			}
			seen++
			if math.Abs(j.Blade-want) > exactly*math.Abs(want) || j.Half != half {
				t.Errorf("%s: %v per unit and half play %v, want %v and %v", name, j.Blade, j.Half, want, half)
			}
			got := swash.Tilt{Right: units.Angle(j.Pose.Right * by), Forward: units.Angle(j.Pose.Forward * by)}
			if off := float64(got.Sub(tilt).Amount()); off > exactly*float64(tilt.Amount())+1e-12 {
				t.Errorf("%s: tilts by %+v, want %+v", name, got, tilt)
			}
			if rise := float64(isPose.Height - wasPose.Height); math.Abs(j.Pose.Height*by-rise) > exactly*math.Abs(rise)+1e-12 {
				t.Errorf("%s: rises by %v, want %v", name, j.Pose.Height*by, rise)
			}
		}
		if seen != 1 {
			t.Errorf("%d joints %q", seen, name)
		}
	}
	ball, bearing := float64(play.Ball)/2, float64(play.Bearing)/2
	exact := func(m *machine.Machine) { rigtest.Hover(m); m.Radio.PulseStep = 0 }
	common := func(r *setup.Rig, joints pitch.Joints) {
		for i, s := range r.Servos() {
			moved := r.Head().Control.Servos()[i]
			moved.Mount += turn
			drive, err := r.Head().Control.WithServo(i, moved)
			if err != nil {
				t.Fatal(err)
			}
			check(r, joints, s.Name+" servo gear", float64(play.Gear)/2, float64(turn), &pitch.Head{Control: drive, Grip: r.Head().Grip})
		}
		longer := r.Head().Grip.Spec()
		longer.Link += by
		grip, err := pitch.NewGrip(longer, r.Head().Control.Mechanism().Neutral().Height)
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range []string{"pitch link, lower ball", "pitch link, ball on the pitch horn"} {
			check(r, joints, name, ball, float64(by), &pitch.Head{Control: r.Head().Control, Grip: grip})
		}
	}
	with := func(r *setup.Rig, m swash.Mechanism, err error) *pitch.Head {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		drive, err := r.Head().Control.WithMechanism(m)
		if err != nil {
			t.Fatal(err)
		}
		return &pitch.Head{Control: drive, Grip: r.Head().Grip}
	}

	direct := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), exact)
	joints, err := direct.Joints(play, demand)
	if err != nil || len(joints) != 3+2*3+2 {
		t.Fatalf("%d joints, %v", len(joints), err)
	}
	common(direct, joints)
	for i, s := range direct.Servos() {
		plate := direct.Parts().Plate
		plate.Legs[i].Arm.Link += by
		m, err := swash.NewPlate(plate)
		for _, name := range []string{" ball on the arm", " ball on the plate"} {
			check(direct, joints, s.Name+name, ball, float64(by), with(direct, m, err))
		}
	}

	data := rigtest.Read(t, rigtest.Demos+"bellcranks.json")
	cranks := rigtest.Rig(t, data, exact)
	if joints, err = cranks.Joints(play, demand); err != nil || len(joints) != 3+2*(2+2+1)+2*2+2 {
		t.Fatalf("%d joints, %v", len(joints), err)
	}
	common(cranks, joints)
	for _, c := range []struct {
		names []string
		edit  func(*machine.BellCranks)
	}{
		{[]string{"collective, first link, first ball", "collective, first link, second ball", "collective, first crank, towards the first link"}, func(b *machine.BellCranks) { b.Collective.Chain[0].ArmToArm.Link += by }},
		{[]string{"collective, second link, first ball", "collective, second link, second ball", "collective, first crank, towards the second link"}, func(b *machine.BellCranks) { b.Collective.Chain[1].ArmToLine.Link += by }},
		{[]string{"right cyclic, first link, first ball", "right cyclic, first link, second ball", "right cyclic, first crank, towards the first link"}, func(b *machine.BellCranks) { b.Right.Chain[0].ArmToArm.Link += by }},
		{[]string{"right cyclic, second link, first ball", "right cyclic, second link, second ball", "right cyclic, first crank, towards the second link"}, func(b *machine.BellCranks) { b.Right.Chain[1].ArmToArm.Link += by }},
		{[]string{"forward cyclic link, first ball", "forward cyclic link, second ball"}, func(b *machine.BellCranks) { b.Forward.Chain[0].ArmToArm.Link += by }},
	} {
		changed := rigtest.Rig(t, data, func(m *machine.Machine) { exact(m); c.edit(m.Plate.BellCranks) }).Head()
		for i, name := range c.names {
			half := ball
			if i == 2 {
				half = bearing
			}
			check(cranks, joints, name, half, float64(by), &pitch.Head{Control: changed.Control, Grip: cranks.Head().Grip})
		}
	}
}
