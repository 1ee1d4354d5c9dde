package show

import (
	"fmt"
	"io"
	"regexp"
	"strings"
	"unicode/utf8"
)

// Width is the widest a line of text may be.
const Width = 100

// Table is rows of text under column heads. A head that begins with "<" sets
// its column flush left; the others are flush right, as numbers should be.
type Table struct {
	Title string
	Heads []string
	Rows  [][]string
	Notes []string // under the rows
}

// Add adds a row, one cell for each head.
func (t *Table) Add(cells ...string) { t.Rows = append(t.Rows, cells) }

// Note adds a note under the rows.
func (t *Table) Note(format string, args ...any) {
	t.Notes = append(t.Notes, fmt.Sprintf(format, args...))
}

// Left reports whether column i is flush left.
func (t *Table) Left(i int) bool { return strings.HasPrefix(t.Heads[i], "<") }

// Head returns the head of column i.
func (t *Table) Head(i int) string { return strings.TrimPrefix(t.Heads[i], "<") }

const gap = 2 // between columns

// Print writes the title, and the table with its notes indented under it. At most Width columns
// are taken: where it would be wider, the widest columns' cells are wrapped.
func (t *Table) Print(w io.Writer) {
	if t.Title != "" {
		Print(w, "", "  ", t.Title)
	}
	heads := make([]string, len(t.Heads))
	for i := range heads {
		heads[i] = t.Head(i)
	}
	rows := append([][]string{heads}, t.Rows...)
	widths := fit(rows, Width-gap)
	for _, row := range rows {
		t.print(w, row, widths)
	}
	for _, note := range t.Notes {
		Print(w, "  ", "    ", note)
	}
}

// fit returns the columns' widths, the widest narrowed until all fit in total, but none to
// nothing.
func fit(rows [][]string, total int) []int {
	widths := make([]int, len(rows[0]))
	sum := -gap
	for i := range widths {
		for _, row := range rows {
			widths[i] = max(widths[i], utf8.RuneCountInString(row[i]))
		}
		sum += widths[i] + gap
	}
	for ; sum > total; sum-- {
		widest := 0
		for i, width := range widths {
			if width > widths[widest] {
				widest = i
			}
		}
		if widths[widest] <= 1 {
			break // more columns than there is room for
		}
		widths[widest]--
	}
	return widths
}

// print writes one row, over as many lines as its tallest cell takes.
func (t *Table) print(w io.Writer, row []string, widths []int) {
	cells := make([][]string, len(row))
	lines := 0
	for i, cell := range row {
		cells[i] = Wrap(cell, widths[i])
		lines = max(lines, len(cells[i]))
	}
	for k := range lines {
		line := ""
		for i, cell := range cells {
			text := ""
			if k < len(cell) {
				text = cell[k]
			}
			pad := strings.Repeat(" ", widths[i]-utf8.RuneCountInString(text))
			if t.Left(i) {
				line += strings.Repeat(" ", gap) + text + pad
			} else {
				line += strings.Repeat(" ", gap) + pad + text
			}
		}
		fmt.Fprintln(w, strings.TrimRight(line, " "))
	}
}

// Print writes text in lines of at most Width columns, the first after first
// and the others after rest.
func Print(w io.Writer, first, rest, text string) {
	indent := first
	for _, line := range Wrap(text, Width-max(utf8.RuneCountInString(first), utf8.RuneCountInString(rest))) {
		fmt.Fprintln(w, indent+line)
		indent = rest
	}
}

// Tie joins numbers to their units by no-break spaces.
func Tie(text string) string { return tie.ReplaceAllString(text, "${1}"+noBreak+"${2}") }

const noBreak = "\u00a0"

var (
	// A number and the unit after it, and no word that only begins like a unit.
	tie   = regexp.MustCompile(`(\d) (%|(?:mm|cm|m|m/s|µs|ms|s|Hz|rpm|A|V|W|N|N·m|N/mm|kgf·cm|mAh|g|kg)(?:[^\pL\pN·/]|$))`)
	untie = strings.NewReplacer(noBreak, " ")
)

// Wrap breaks text at spaces into lines of at most width runes. Numbers stay
// with their units, and words that are too long are cut.
func Wrap(text string, width int) []string {
	width = max(width, 1)
	var lines []string
	var line []rune
	for word := range strings.FieldsFuncSeq(Tie(text), func(r rune) bool { return r == ' ' || r == '\n' || r == '\t' }) {
		word := []rune(word)
		if len(line) > 0 && len(line)+1+len(word) > width {
			lines, line = append(lines, string(line)), nil
		}
		if len(line) > 0 {
			line = append(line, ' ')
		}
		line = append(line, word...)
		for len(line) > width {
			lines, line = append(lines, string(line[:width])), line[width:]
		}
	}
	lines = append(lines, string(line))
	for i := range lines {
		lines[i] = untie.Replace(lines[i])
	}
	return lines
}
