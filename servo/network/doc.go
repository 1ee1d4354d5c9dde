// Package network solves a machine's mechanism as it was built: bodies, balls and links
// in any arrangement, all together and exactly.
//
// A chain of linkages gives one function and touches no other. In a real mechanism
// they touch: cyclic bell cranks ride on the collective lever, two cranks push and pull
// one swashplate at four balls, a mixing arm turns on a pivot that moves. Here all that
// is one [Spec]: cranks on shafts, sliders on lines, the swashplate ("plate" from here
// on) on its mast, its rotating ring, each on the frame or on another body; balls on the
// bodies; and links that keep two balls apart. [New] checks it, and a [State] solves it:
//
//	n, err := network.New(spec)
//	s := n.NewState()
//	err = s.Solve([]float64{0.1, -0.2, 0.1}) // the servo arms, in rad
//	ball := s.Position(0)
//
// From the state come the derivatives by every input and by every length, place and
// angle of the description ([State.Effect], [State.InputEffect], [State.Gradient]), what
// a load asks of the servos and of the links ([State.Carry]), the play of all joints
// together ([State.Play]), how far links are from their dead centres ([State.Margins]),
// and where the way ends in a direction of the inputs ([State.Reach]). A body can be an
// input whatever it is: with the plate for input the servos' angles are found.
//
// # Conventions
//
// All is in SI units: metres, radians, newtons. The description is drawn at neutral, in
// the machine's frame: x right, y forward, z up, the origin on the mast's axis. There
// every crank and slider counts 0, and every plate lies level. A crank turns
// right-handed about its axis; a slider goes along its direction; each moves with the
// body it is on. A plate has the height of its centre and the level parts of its normal,
// above 0 where the right or the front is low. It stands turned about its normal so
// that its [Mark] keeps to the vertical plane of its bearing; a [Ring] on it has a mark
// of its own. A force along a link is above 0 where it pulls its balls together, a strain
// where the link is too long for its length, and a load where it pushes its coordinate up.
//
// Links need not fit the drawing. Neutral is where the network goes from the drawing as
// the links change to their lengths.
//
// # Equations
//
// With x the unknown coordinates, q the inputs, A and B the balls of link k and L its
// length, its strain is
//
//	F_k(x, q) = |A - B| - L_k,  J = dF/dx
//
// Where links are as many as unknowns F = 0, and a change ds of anything moves the
// unknowns by dx, and a load w on them pulls at the links with λ:
//
//	J dx = -F_s ds,  Jᵀ λ = w,  the input q feels λᵀ F_q
//
// The unknowns are cut into blocks that can be found one after the other, as in a chain
// of bell cranks, which are blocks of one. Where links are more than the unknowns, the
// energy of the strains is least, with W the links' stiffness:
//
//	Jᵀ W F = 0,  (Jᵀ W J + Σ W F F'') dx = -(Jᵀ W F_s + Σ W F J_s) ds
//
// The terms in F are what a strained link adds as it swings. A link between inputs alone
// finds nothing, but is strained, and loads them. That links hold every body
// is judged by the rank of J at neutral, never by counting: as many links as freedoms
// can leave one body loose while others fight.
//
// The answer is followed from neutral, or from an answer near by, in steps each of which
// is proven to hold one answer all along, so that no step leads onto another branch of
// the mechanism: proof.go has the bounds. A proof that needs steps below 1e-10 rad tells
// of a dead centre, which the error names. For strained networks a bound of how far the
// strain turns the links' pull is part of the proof. On one point the proof is not strict:
// how much faster a plate's balls move as it tilts within a step is a margin, which was
// tried and not derived. proof.go says what a derived bound would be.
//
// # The laws
//
// What holds for every network, and what package networktest checks:
//
//  1. Every link has its length, or the energy of all strains is least; every ball is
//     where its body takes it.
//  2. Effect, InputEffect and Gradient are the derivatives of the coordinates.
//  3. Power in is power out: the work of the inputs is that of the load.
//  4. With outputs given for inputs, the inputs come back.
//  5. The mirror image of a network moves as the mirror image.
//  6. An answer is continuous with neutral, and does not hang on where the state was.
//  7. Nothing allocates but New, NewState, Reach and errors.
//  8. What is refused is refused with a typed error that names bodies and links, and
//     with no number.
//  9. The order of listing does not matter.
//
// # Accuracy
//
// Coordinates and places are right to 1e-12 of the machine's size over [State.Hold]:
// better than 1e-9 mm and 1e-9 degree, held to tables solved at 40 digits by another
// method, in testdata. Towards a dead centre rounding is magnified by the root, as
// always. Where the straight ways of two sets of inputs lie on either side of a dead
// centre, their answers can be of two branches: each is continuous with neutral on its
// own way.
//
// # Speed
//
// Seen on a shared AMD EPYC by processor time: a plate on twelve unknowns takes 3.0 µs
// from inputs a degree away and 14 µs from inputs 45° away, and 7 µs more for the
// derivatives of all coordinates over forty parts; a plate on four legs takes 2.5 µs and
// 13 µs.
//
// # Sources
//
// The equations are written out above and in the files that compute them, and follow from
// the lengths of the links alone. Those of others are named where they stand, all from
// memory: the proof of a step in proof.go after L. V. Kantorovich (1948) and R. Krawczyk
// (1969), the blocks in blocks.go after R. Tarjan (1972), and the terms of strained links
// in strained.go, which structural engineers know as the geometric stiffness. What the
// reference tables come from is in testdata/README.md.
package network
