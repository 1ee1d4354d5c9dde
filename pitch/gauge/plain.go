package gauge

import "example.org/levelhead/units"

// What follows are the forms in JSON, by package units/plain, of what holds numbers in SI
// units whose quantity hangs on a kind or an action.

// amount returns an amount in SI units as the quantity that a parameter of the kind is off by.
func (k Kind) amount(x float64) any {
	switch _, si := k.Unit(); si {
	case float64(units.Degree):
		return units.Angle(x)
	case float64(units.Percent):
		return units.Ratio(x)
	}
	return units.Length(x)
}

// PlainJSON returns what stands for an estimate in JSON.
func (e Estimate) PlainJSON() any {
	return struct {
		Parameter Parameter   `json:"parameter"`
		Off       any         `json:"off"`
		Sigma     any         `json:"sigma"`
		Tolerance any         `json:"tolerance"`
		Known     units.Ratio `json:"known"`
		Verdict   Verdict     `json:"verdict"`
		With      []Parameter `json:"with"`
	}{e.Parameter, e.Parameter.Kind.amount(e.Off), e.Parameter.Kind.amount(e.Sigma), e.Parameter.Kind.amount(e.Tolerance), units.Ratio(e.Known), e.Verdict, e.With}
}

// PlainJSON returns what stands for a fault in JSON.
func (f Fault) PlainJSON() any {
	return struct {
		Parameter Parameter `json:"parameter"`
		Name      string    `json:"name"`
		Off       any       `json:"off"`
		Sigma     any       `json:"sigma"`
		ChiSquare float64   `json:"chi_square"`
	}{f.Parameter, f.Name, f.Parameter.Kind.amount(f.Off), f.Parameter.Kind.amount(f.Sigma), f.ChiSquare}
}

// PlainJSON returns what stands for a step in JSON: with from and to where it has them.
func (s Step) PlainJSON() any {
	form := struct {
		Action Action  `json:"action"`
		What   string  `json:"what_to_change"`
		Index  int     `json:"index"`
		Of     Control `json:"control,omitempty"`
		Mode   string  `json:"mode,omitempty"`
		Count  float64 `json:"count"`
		Do     string  `json:"do"`
		From   any     `json:"from_setting"`
		To     any     `json:"to_setting"`
		After  []Check `json:"after"`
	}{Action: s.Action, What: s.What, Index: s.Index, Of: s.Control, Mode: s.Mode, Count: s.Count, Do: s.Do(), After: s.After}
	switch s.Action {
	case SubTrim:
		form.From, form.To = units.PulseWidth(s.From), units.PulseWidth(s.To)
	case Rate, CurvePoint:
		form.From, form.To = units.Ratio(s.From), units.Ratio(s.To)
	}
	return form
}
