package swash_test

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// The tolerances against tables solved at 30 digits and more.
const (
	heightTolerance = 1e-9 // mm
	tiltTolerance   = 1e-9 // degree
	armTolerance    = 1e-9 // degree
	strainTolerance = 1e-9 // mm
)

// referenceMachine is one entry of poses.json and heads.json; testdata/README.md
// tells the fields.
type referenceMachine struct {
	Neutral float64  `json:"height_neutral_mm"`
	Guide   *float64 `json:"guide_deg"`
	Legs    []struct {
		Bearing float64    `json:"bearing_deg"`
		Radius  float64    `json:"ball_radius_mm"`
		Offset  float64    `json:"offset_mm"`
		Shaft   [3]decimal `json:"shaft_mm"`
		Axis    [3]decimal `json:"axis"`
		Neutral [3]decimal `json:"arm_dir"`
		Arm     float64    `json:"arm_mm"`
		Link    float64    `json:"link_mm"`
	} `json:"legs"`
	Arms []float64 `json:"arms_deg"`
	Pose struct {
		Height  decimal `json:"height_mm"`
		Right   decimal `json:"lean_right_deg"`
		Forward decimal `json:"lean_forward_deg"`
	} `json:"pose"`
	Strain []decimal `json:"strain_mm"`
}

// decimal is a number given as text or as a JSON number.
type decimal float64

func (d *decimal) UnmarshalJSON(data []byte) error {
	if data[0] == '"' {
		data = data[1 : len(data)-1]
	}
	return json.Unmarshal(data, (*float64)(d))
}

func readReference(t *testing.T, path string) []referenceMachine {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var machines []referenceMachine
	if err := json.Unmarshal(data, &machines); err != nil {
		t.Fatal(err)
	}
	return machines
}

func (m *referenceMachine) plate(t *testing.T) *swash.Plate {
	t.Helper()
	spec := swash.PlateSpec{Height: units.Length(m.Neutral) * units.Millimetre}
	if m.Guide != nil {
		spec.Guide = swash.GuideAt(units.Angle(*m.Guide) * units.Degree)
	}
	for _, l := range m.Legs {
		spec.Legs = append(spec.Legs, swash.LegSpec{
			Ball: swash.Ball{
				Bearing: units.Angle(l.Bearing) * units.Degree,
				Radius:  units.Length(l.Radius) * units.Millimetre,
				Offset:  units.Length(l.Offset) * units.Millimetre,
			},
			Arm: linkage.ArmSpec{
				Shaft: linkage.Point{
					X: units.Length(l.Shaft[0]) * units.Millimetre,
					Y: units.Length(l.Shaft[1]) * units.Millimetre,
					Z: units.Length(l.Shaft[2]) * units.Millimetre,
				},
				Axis:    linkage.Direction{X: float64(l.Axis[0]), Y: float64(l.Axis[1]), Z: float64(l.Axis[2])},
				Neutral: linkage.Direction{X: float64(l.Neutral[0]), Y: float64(l.Neutral[1]), Z: float64(l.Neutral[2])},
				Radius:  units.Length(l.Arm) * units.Millimetre,
				Link:    units.Length(l.Link) * units.Millimetre,
			},
		})
	}
	p, err := swash.NewPlate(spec)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func near(t *testing.T, what string, got float64, want decimal, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-float64(want)) <= tolerance) {
		t.Errorf("%s: got %.15g, want %.15g: off by %.2g", what, got, float64(want), got-float64(want))
	}
}

// The poses are from poses.json, solved at 40 digits by multidimensional root
// finding, from heads.json, and from cad.json, solved by the constraint solver of a
// CAD program: testdata/README.md names all sources.
func TestPoseAgainstReference(t *testing.T) {
	for _, path := range []string{"../testdata/poses.json", "../testdata/heads.json", "../testdata/cad.json"} {
		for _, m := range readReference(t, path) {
			p := m.plate(t)
			arms := make([]units.Angle, len(m.Arms))
			for i, a := range m.Arms {
				arms[i] = units.Angle(a) * units.Degree
			}
			pose, err := p.Pose(arms)
			if err != nil {
				t.Errorf("%s: %v", path, err)
				continue
			}
			near(t, "height", pose.Height.Millimetres(), m.Pose.Height, heightTolerance)
			near(t, "right", pose.Tilt.Right.Degrees(), m.Pose.Right, tiltTolerance)
			near(t, "forward", pose.Tilt.Forward.Degrees(), m.Pose.Forward, tiltTolerance)
			if m.Strain != nil {
				fights := make([]swash.Fight, len(arms))
				if err := p.Fights(fights, pose, arms); err != nil {
					t.Fatal(err)
				}
				for i, s := range m.Strain {
					near(t, "strain", fights[i].Strain.Millimetres(), s, strainTolerance)
				}
				continue // no arms reach that pose without strain
			}
			back := make([]units.Angle, len(arms))
			if err := p.Arms(back, pose); err != nil {
				t.Errorf("%s: %v", path, err)
				continue
			}
			for i, a := range m.Arms {
				near(t, "arm", back[i].Degrees(), decimal(a), armTolerance)
			}
		}
	}
}
