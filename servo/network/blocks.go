package network

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// block is a set of unknowns that the same number of links find together, once those
// of the blocks before are known. A network of chains has small blocks: each bell crank
// is one of its own. A network with links to spare is a single block.
type block struct {
	unknown []int // coordinates
	links   []int
	inv     int   // where its inverse begins in the view's
	row     []int // where each join of each link goes in the block's matrix, link by link: column, or -1
}

// singular is the part of the largest singular value below which one counts as nothing,
// with the columns of the Jacobian at length 1.
const singular = 1e-6

// rank finds by the rank of the Jacobian at the drawing whether the links hold every
// body, and cuts the network into blocks.
func (n *Network) rank() error {
	for i, c := range n.coords {
		if !c.Input {
			n.unknown = append(n.unknown, i)
		}
	}
	if len(n.unknown) == 0 {
		if len(n.links) > 0 {
			return fault("link", n.spec.Links[0].Name, 0, "A", "is moved by inputs alone, as all links are: there is nothing to find")
		}
		return nil
	}
	column := make([]int, len(n.coords))
	for i, c := range n.unknown {
		column[c] = i
	}
	m, u := len(n.links), len(n.unknown)
	v := n.newView()
	n.drawn(&v)
	n.move(&v, n.lengths())
	n.slope(&v)
	rows := max(m, u) // of nothing where there are few links, so that the whole null space is found
	j := mat.NewDense(rows, u, nil)
	for i := range n.links {
		for k := n.links[i].row.from; k < n.links[i].row.to; k++ {
			if c := n.joins[k].coord; !n.coords[c].Input {
				j.Set(i, column[c], v.jac[k])
			}
		}
	}
	for c := range u {
		var most float64
		for i := range m {
			most = math.Hypot(most, j.At(i, c))
		}
		// A column below this is rounding: it would be scaled up to count.
		floor := singular
		if mo := n.coords[n.unknown[c]].Motion; mo != Slide && mo != Height {
			floor *= n.size
		}
		for i := range m {
			if most > floor {
				j.Set(i, c, j.At(i, c)/most)
			} else {
				j.Set(i, c, 0)
			}
		}
	}
	var svd mat.SVD
	if !svd.Factorize(j, mat.SVDFull) {
		return &LooseError{Bodies: n.freeBodies(), Freedoms: u}
	}
	values := svd.Values(nil)
	rank := 0
	for _, x := range values {
		if x > singular*max(values[0], math.SmallestNonzeroFloat64) {
			rank++
		}
	}
	if rank < u {
		return n.loose(&svd, rank, u, m)
	}
	n.spare = m > u
	n.cut()
	return nil
}

// freeBodies returns the bodies that are no input.
func (n *Network) freeBodies() []string {
	var names []string
	for _, c := range n.unknown {
		if name := n.coords[c].Body; !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return names
}

// loose names the bodies that move in the null space.
func (n *Network) loose(svd *mat.SVD, rank, u, m int) error {
	var right mat.Dense
	svd.VTo(&right)
	e := &LooseError{Freedoms: u - rank, Conflicts: m - rank}
	for i, c := range n.unknown {
		var moves float64
		for k := rank; k < u; k++ {
			moves = math.Hypot(moves, right.At(i, k))
		}
		if name := n.coords[c].Body; moves > 1e-4 && !slices.Contains(e.Bodies, name) {
			e.Bodies = append(e.Bodies, name)
		}
	}
	return e
}

// cut puts the unknowns into blocks: a matching of links to unknowns, and the strongly
// connected parts of what then hangs on what, by R. Tarjan, Depth-first search and
// linear graph algorithms, SIAM Journal on Computing 1 (1972), 146-160 (from memory).
func (n *Network) cut() {
	match := make([]int, len(n.coords)) // the link that finds a coordinate
	for i := range match {
		match[i] = -1
	}
	if !n.spare {
		for i := range n.links {
			n.augment(i, match, make([]bool, len(n.coords)))
		}
	}
	if n.spare || slices.ContainsFunc(n.unknown, func(c int) bool { return match[c] < 0 }) {
		b := block{unknown: slices.Clone(n.unknown)}
		for i := range n.links {
			b.links = append(b.links, i)
		}
		n.blocks = []block{b}
	} else {
		n.connect(match)
	}
	n.unknown = n.unknown[:0]
	of := make([]int, len(n.coords))
	for i := range n.blocks {
		b := &n.blocks[i]
		b.inv = n.inverse
		n.inverse += len(b.unknown) * len(b.links)
		n.widest = max(n.widest, len(b.links))
		n.unknown = append(n.unknown, b.unknown...)
		for _, c := range b.unknown {
			of[c] = i
		}
	}
	for k := range n.joins {
		if j := &n.joins[k]; !n.coords[j.coord].Input {
			j.block = of[j.coord]
		}
	}
	for i := range n.blocks {
		b := &n.blocks[i]
		for _, k := range b.links {
			for _, j := range n.joins[n.links[k].row.from:n.links[k].row.to] {
				b.row = append(b.row, slices.Index(b.unknown, j.coord))
			}
		}
	}
}

// augment matches link i with an unknown, moving others if need be.
func (n *Network) augment(i int, match []int, seen []bool) bool {
	for _, j := range n.joins[n.links[i].row.from:n.links[i].row.to] {
		c := j.coord
		if n.coords[c].Input || seen[c] {
			continue
		}
		seen[c] = true
		if match[c] < 0 || n.augment(match[c], match, seen) {
			match[c] = i
			return true
		}
	}
	return false
}

// connect makes the blocks, in the order in which they can be solved.
func (n *Network) connect(match []int) {
	index := make([]int, len(n.coords)) // 0: not seen
	low := make([]int, len(n.coords))
	on := make([]bool, len(n.coords))
	var stack []int
	count := 0
	var visit func(c int)
	visit = func(c int) {
		count++
		index[c], low[c] = count, count
		stack = append(stack, c)
		on[c] = true
		for _, j := range n.joins[n.links[match[c]].row.from:n.links[match[c]].row.to] {
			switch d := j.coord; {
			case n.coords[d].Input:
			case index[d] == 0:
				visit(d)
				low[c] = min(low[c], low[d])
			case on[d]:
				low[c] = min(low[c], index[d])
			}
		}
		if low[c] != index[c] {
			return
		}
		var b block
		for {
			d := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			on[d] = false
			b.unknown = append(b.unknown, d)
			if d == c {
				break
			}
		}
		slices.Sort(b.unknown)
		for _, d := range b.unknown {
			b.links = append(b.links, match[d])
		}
		n.blocks = append(n.blocks, b)
	}
	for _, c := range n.unknown {
		if index[c] == 0 {
			visit(c)
		}
	}
}

// lengths returns the links' lengths.
func (n *Network) lengths() []float64 {
	list := make([]float64, len(n.links))
	for i := range n.links {
		list[i] = n.links[i].length
	}
	return list
}
