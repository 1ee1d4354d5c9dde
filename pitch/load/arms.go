package load

import (
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// ArmTrade is a setup on servo arms (also called servo horns) of another radius, with the
// same pitch at the blade. A longer arm needs less rate and moves the plate faster; a
// shorter one holds more and divides the pitch finer.
type ArmTrade struct {
	Setup    setup.Setup     // the machine on those arms, with what is to be entered there
	Transfer *setup.Transfer // rates and curve, and how well they do the same
	Demand   *Demand         // what the mode then asks of the servos
}

// OnArms returns the setup on servo arms of another radius, all of one length. The errors are
// those of setup.Rig.WithArms, setup.Setup.Transfer and Demand; a *setup.TargetError among
// them is a pitch that those arms do not reach.
func (t Turning) OnArms(radius units.Length) (*ArmTrade, error) {
	if err := t.Setup.Validate(); err != nil {
		return nil, err
	}
	rig, err := t.Setup.Rig().WithArms(radius)
	if err != nil {
		return nil, err
	}
	moved, err := t.Setup.Transfer(rig, setup.TransferOptions{})
	if err != nil {
		return nil, err
	}
	demand, err := Turning{moved.Target, t.Spin}.Demand()
	if err != nil {
		return nil, err
	}
	return &ArmTrade{moved.Target, moved, demand}, nil
}
