package pitch_test

import (
	"context"
	"reflect"
	"testing"

	"example.org/levelhead/curve"
	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/choose"
	"example.org/levelhead/pitch/gauge"
	"example.org/levelhead/pitch/load"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/rotor"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/servo"
	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/servo/network"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// call calls every exported method of v with zero arguments. None may panic; where v refuses
// all, each that can report an error must.
func call(t *testing.T, v any, refuses bool) {
	val := reflect.ValueOf(v)
	for i := range val.NumMethod() {
		m := val.Type().Method(i)
		func() {
			defer func() {
				if r := recover(); r != nil {
					t.Errorf("%T.%s: %v", v, m.Name, r)
				}
			}()
			f := val.Method(i)
			var args []reflect.Value
			n := f.Type().NumIn()
			if f.Type().IsVariadic() {
				n--
			}
			for k := range n {
				in := f.Type().In(k)
				if in.Kind() == reflect.Pointer {
					args = append(args, reflect.New(in.Elem()))
				} else {
					args = append(args, reflect.Zero(in))
				}
			}
			out := f.Call(args)
			if n := len(out); refuses && n > 0 && f.Type().Out(n-1) == reflect.TypeFor[error]() && out[n-1].IsNil() {
				t.Errorf("%T.%s answers %v", v, m.Name, out[:n-1])
			}
		}()
	}
}

// What no constructor made, and what is not there at all, is refused with an error or is
// empty: nothing panics.
func TestMisuse(t *testing.T) {
	for _, v := range []any{
		new(pitch.Head), new(pitch.Grip), new(pitch.Solver), new(swash.Control), new(swash.Plate), new(swash.BellCranks), new(network.State),
		new(setup.Rig), load.Turning{}, new(load.Demand), new(gauge.Session), new(gauge.Result),
	} {
		call(t, v, true)
	}
	for _, v := range []any{
		new(curve.Curve), new(pitch.Head), new(pitch.Grip), new(pitch.Solver), pitch.GripSpec{}, new(pitch.Setting), pitch.Stick{}, pitch.Cyclic{}, pitch.Joints{}, pitch.Revolution{},
		new(swash.Control), new(swash.Plate), new(swash.BellCranks), new(swash.State), swash.Mix{}, swash.Pose{}, swash.Tilt{}, swash.Layout{}, swash.Rates{}, swash.PlateSpec{}, swash.Frame{},
		new(servo.Servo), new(servo.Rating), new(linkage.Arm), new(linkage.ArmToArm), new(linkage.ArmToLine), new(linkage.Lever), new(linkage.Chain), linkage.ArmsSpec{}, linkage.LineSpec{}, linkage.LeverSpec{},
		new(network.Network), new(network.State), new(setup.Rig), setup.Setup{}, new(setup.Parts), new(machine.Machine), new(machine.Battery), new(machine.Rating), machine.Gauge{}, new(machine.BellCranks),
		load.Turning{}, new(load.Spin), new(load.Demand), new(rotor.Rotor), new(rotor.Battery), rotor.Electric{}, rotor.Engine{}, new(rotor.Engine),
		new(gauge.Session), new(gauge.Result), new(gauge.Correction), new(gauge.Instrument), new(gauge.Step), choose.Objective(0), new(choose.Choice), new(choose.Measures),
		units.Angle(0),
	} {
		call(t, v, false)
	}
	for name, f := range map[string]func(){
		"Build nil": func() { setup.Build(nil) }, "Build zero": func() { setup.Build(&machine.Machine{}) },
		"Of nil": func() { sheet.Of(nil) }, "Of zero": func() { sheet.Of(&setup.Rig{}) }, "Steps nil": func() { sheet.Steps(nil) },
		"OfTransfer nil": func() { sheet.OfTransfer(nil) }, "OfTransfer zero": func() { sheet.OfTransfer(&setup.Transfer{}) }, "OfArms": func() { sheet.OfArms(nil) }, "OfArms0": func() { sheet.OfArms(&load.ArmTrade{}) },
		"Compare": func() { setup.Compare(setup.Setup{}, setup.Setup{}) }, "Ratings": func() { load.Ratings(nil) }, "Ratings0": func() { load.Ratings(&setup.Rig{}) },
		"Search": func() { choose.Search(context.Background(), &setup.Rig{}, choose.Owned{}, choose.Options{}) }, "Try": func() { choose.Try(&setup.Rig{}, choose.Candidate{}, 0) },
		"Session": func() { gauge.NewSession(&setup.Rig{}, 2, gauge.DefaultTolerances()) }, "PitchGauge": func() { gauge.PitchGauge(nil) }, "PitchGauge0": func() { gauge.PitchGauge(&setup.Rig{}) },
		"Parse": func() { machine.Parse(nil) }, "Cautions": func() { sheet.Cautions(3, nil, nil) },
		"NewControl": func() { swash.NewControl(nil, nil, nil) }, "NewControl0": func() { swash.NewControl(&swash.Plate{}, make([]servo.Servo, 3), make(swash.Mix, 3)) },
		"NewBellCranks": func() { swash.NewBellCranks(swash.BellCrankSpec{}) }, "NewChain": func() { linkage.NewChain() }, "NewChain nil": func() { linkage.NewChain(nil) },
		"curve nil": func() { var c *curve.Curve; c.At(0); c.Points(); c.Inverse(0); c.Slope(0) },
	} {
		func() {
			defer func() {
				if r := recover(); r != nil {
					t.Errorf("%s: %v", name, r)
				}
			}()
			f()
		}()
	}
}
