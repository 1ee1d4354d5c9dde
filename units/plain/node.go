package plain

import "bytes"

// node is a piece of JSON.
type node struct {
	form    form
	text    string // of a scalar
	word    string // that the text quotes, where isWord
	isWord  bool
	members []member // of an object or a list
	keys    map[string]bool
}

type form int

const (
	scalar form = iota
	object
	list
)

type member struct {
	key string // "" in a list
	*node
}

// add adds a member to an object. It is false if there is one with that key.
func (n *node) add(key string, m *node) bool {
	if n.keys[key] {
		return false
	}
	if n.keys == nil {
		n.keys = map[string]bool{}
	}
	n.keys[key] = true
	n.members = append(n.members, member{key, m})
	return true
}

// flat reports whether a node stands in one line: all but objects, and lists of them.
func (n *node) flat() bool {
	if n.form == object {
		return len(n.members) == 0
	}
	for _, m := range n.members {
		if !m.flat() {
			return false
		}
	}
	return true
}

// print writes a node whose line begins with an indent.
func (n *node) print(out *bytes.Buffer, indent string) {
	if n.form == scalar {
		out.WriteString(n.text)
		return
	}
	open, end, inside, between := byte('{'), byte('}'), "\n"+indent+"  ", ","
	if n.form == list {
		open, end = '[', ']'
	}
	if n.flat() {
		inside, between = "", ", "
	}
	out.WriteByte(open)
	for i, m := range n.members {
		if i > 0 {
			out.WriteString(between)
		}
		out.WriteString(inside)
		if n.form == object {
			out.WriteString(word(m.key).text + ": ")
		}
		m.print(out, indent+"  ")
	}
	if inside != "" {
		out.WriteString("\n" + indent)
	}
	out.WriteByte(end)
}
