package pitch_test

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"example.org/levelhead/pitch"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// bladeTolerance is what the package doc promises against tables solved at 40
// digits, in degrees.
const bladeTolerance = 1e-9

// referenceHead is the rotating side of one entry of poses.json and heads.json;
// testdata/README.md tells the fields.
type referenceHead struct {
	Neutral float64 `json:"height_neutral_mm"`
	Pose    struct {
		Height  number `json:"height_mm"`
		Right   number `json:"lean_right_deg"`
		Forward number `json:"lean_forward_deg"`
	} `json:"pose"`
	Grip *struct {
		RingRadius float64        `json:"ring_radius_mm"`
		RingOffset float64        `json:"ring_offset_mm"`
		Phase      float64        `json:"phase_deg"`
		Driver     float64        `json:"driver_deg"`
		Horn       float64        `json:"horn_mm"`
		HornX      float64        `json:"horn_x_mm"`
		HubHeight  float64        `json:"hub_height_mm"`
		Rest       float64        `json:"rest_deg"`
		Link       number         `json:"link_mm"`
		Turn       pitch.Rotation `json:"turn"`
		Side       pitch.Side     `json:"horn"`
	} `json:"grip"`
	Blade [][2]number `json:"blade_deg"`
}

// number is given as text or as a JSON number.
type number float64

func (n *number) UnmarshalJSON(data []byte) error {
	if data[0] == '"' {
		data = data[1 : len(data)-1]
	}
	return json.Unmarshal(data, (*float64)(n))
}

func readReference(t *testing.T, path string) []referenceHead {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var heads []referenceHead
	if err := json.Unmarshal(data, &heads); err != nil {
		t.Fatal(err)
	}
	return heads
}

func (r *referenceHead) build(t *testing.T) (*pitch.Grip, swash.Pose) {
	t.Helper()
	mm := func(x float64) units.Length { return units.Length(x) * units.Millimetre }
	deg := func(x float64) units.Angle { return units.Angle(x) * units.Degree }
	g, err := pitch.NewGrip(pitch.GripSpec{
		RingRadius: mm(r.Grip.RingRadius),
		RingOffset: mm(r.Grip.RingOffset),
		Phase:      deg(r.Grip.Phase),
		RingDriver: deg(r.Grip.Driver),
		HubHeight:  mm(r.Grip.HubHeight),
		Horn:       mm(r.Grip.Horn),
		HornX:      mm(r.Grip.HornX),
		Rest:       deg(r.Grip.Rest),
		Link:       mm(float64(r.Grip.Link)),
		Rotation:   r.Grip.Turn,
		Side:       r.Grip.Side,
	}, mm(r.Neutral))
	if err != nil {
		t.Fatal(err)
	}
	return g, swash.Pose{
		Height: mm(float64(r.Pose.Height)),
		Tilt:   swash.Tilt{Right: deg(float64(r.Pose.Right)), Forward: deg(float64(r.Pose.Forward))},
	}
}

// The blade pitches are from poses.json and heads.json, solved at 40 digits, and from
// cad.json, solved by the constraint solver of a CAD program: testdata/README.md names
// all sources.
func TestPitchAgainstReference(t *testing.T) {
	checked := 0
	for _, path := range []string{"../testdata/poses.json", "../testdata/heads.json", "../testdata/cad.json"} {
		for _, r := range readReference(t, path) {
			if r.Grip == nil {
				continue
			}
			g, pose := r.build(t)
			for _, b := range r.Blade {
				got, err := g.Pitch(units.Angle(b[0])*units.Degree, pose)
				if err != nil {
					t.Errorf("%s: %v", path, err)
					continue
				}
				if off := got.Degrees() - float64(b[1]); !(math.Abs(off) <= bladeTolerance) {
					t.Errorf("%s: blade at %v°: %.12f°, want %.12f°: off by %.2g°", path, b[0], got.Degrees(), b[1], off)
				}
				checked++
			}
		}
	}
	if checked < 800 {
		t.Errorf("only %d blade pitches checked", checked)
	}
}
