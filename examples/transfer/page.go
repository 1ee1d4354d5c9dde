package main

import (
	"errors"
	"fmt"
	"io"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/results"
	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/pitch/sheet"
)

// works are entering a setup on another machine, and reading the gauge after that.
const works = sheet.WithoutBlades | sheet.WithBlades

// page is what is shown.
type page struct {
	one, two     setup.Setup // setup 1, which is asked for, and setup 2, with which it is compared
	compared     *setup.Comparison
	*transferred // nil if there is no machine to transfer the first setup to
}

// transferred is the first setup on the other machine.
type transferred struct {
	to *setup.Rig
	// failed is why there is nothing to enter there; nil if there is.
	failed   error
	transfer *sheet.Transfer
	compared *setup.Comparison // of the first setup, without radio steps, and what it is there
}

func newPage(o options) (*page, error) {
	rig, err := show.Rig(o.machine, demo.Direct)
	if err != nil {
		return nil, err
	}
	p, with := &page{}, rig
	if o.with != "" || o.machine == "" {
		p.transferred = &transferred{}
		if p.to, err = show.Rig(o.with, demo.BellCranks); err != nil {
			return nil, err
		}
	}
	if o.with != "" {
		with = p.to
	}
	if err := p.pick(o, rig, with); err != nil {
		return nil, err
	}
	if p.compared, err = setup.Compare(p.one, p.two); err != nil {
		return nil, err
	}
	if p.transferred != nil {
		return p, p.transferFrom(p.one, o.points)
	}
	return p, nil
}

// pick finds the flight modes to compare.
func (p *page) pick(o options, rig, with *setup.Rig) (err error) {
	same := rig == with
	if p.one, err = mode(rig, o.mode, func(i int, _ setup.Setup) bool { return i == 1 }); err != nil {
		return err
	}
	name := p.one.Name()
	p.two, err = mode(with, o.withMode, func(_ int, m setup.Setup) bool { return (m.Name() == name) != same })
	if err == nil && same && o.withMode == "" && p.one == p.two {
		return errors.New("the machine has no second flight mode to compare with: name another machine with -with")
	}
	return err
}

// mode returns the flight mode of a name. Without a name it is the first that works and
// suits, or else the first that works.
func mode(rig *setup.Rig, name string, suits func(int, setup.Setup) bool) (setup.Setup, error) {
	if name != "" {
		return show.Mode(rig, name)
	}
	for i, m := range rig.Modes() {
		if m.Works() && suits(i, m) {
			return m, nil
		}
	}
	if m, ok := show.Working(rig); ok {
		return m, nil
	}
	return rig.Modes()[0], nil
}

// transferFrom transfers a setup to the machine. That the machine cannot do the same is an
// answer, too.
func (t *transferred) transferFrom(from setup.Setup, points int) (err error) {
	done, failed := from.Transfer(t.to, setup.TransferOptions{MaxPoints: points})
	if t.failed = failed; failed != nil {
		return nil
	}
	t.transfer = sheet.OfTransfer(done)
	parts := from.Rig().Parts()
	for i := range parts.Servos {
		parts.Servos[i].Step = 0 // what is wanted there is without the radio's rounding
	}
	stepless, err := from.Rig().Refit(parts)
	if err != nil {
		return err
	}
	exact, _ := stepless.Mode(from.Name())
	t.compared, err = setup.Compare(exact, done.Target)
	return err
}

// machines returns the machines that the page is about.
func (p *page) machines() []*machine.Machine {
	machines := []*machine.Machine{p.one.Rig().Machine(), p.two.Rig().Machine()}
	if p.transferred != nil {
		machines = append(machines, p.to.Machine())
	}
	return machines
}

// result is the page for JSON.
func (p *page) result() results.Transfer {
	r := results.Transfer{About: results.Of(works, p.machines()...), Compared: p.compared}
	if t := p.transferred; t != nil {
		r.Transfer, r.There, r.Failed = t.transfer, t.compared, t.failed
	}
	return r
}

// print writes the page, cautions first.
func (p *page) print(w io.Writer) {
	show.PrintCaution(w, works, p.machines()...)
	for i, s := range []setup.Setup{p.one, p.two} {
		show.Print(w, "", "   ", fmt.Sprintf("Setup %d: flight mode %q on %s", i+1, s.Name(), s.Rig().Name()))
	}
	if p.transferred != nil && p.to != p.two.Rig() {
		show.Print(w, "", "   ", "Other machine: "+p.to.Name())
	}
	said := map[string]bool{"": true}
	for _, rig := range []*setup.Rig{p.one.Rig(), p.two.Rig()} {
		if note := rig.Machine().Note; !said[note] {
			show.Print(w, "", "", note)
			said[note] = true
		}
	}
	blade, rest := p.collective()
	for _, t := range []*show.Table{blade, rest, p.cyclic()} {
		fmt.Fprintln(w)
		t.Print(w)
	}
	if p.transferred != nil {
		fmt.Fprintln(w)
		p.transferred.print(w, p.one)
	}
	fmt.Fprintln(w)
	show.Print(w, "", "", "These figures are for the machines as their files describe them. Geometry is exact, but a figure is only as good as what was typed in. "+
		"Before you trust them, read the gauge at the points and check that every stick moves the blades the right way.")
}
