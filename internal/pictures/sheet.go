// Package pictures makes graphs of a machine's books: what a picture shows and how it
// is worded, as data. How it is drawn is for package chart.
package pictures

// Look is how a row of figures is drawn. Each can be told from the others without
// colours: by its shape, or by how dark it is.
type Look int

// The looks.
const (
	DarkBars  Look = iota // filled, dark
	LightBars             // filled, light, with a dark edge
	Dotted                // a line with dots
	Stepped               // a line that stays until its next point
	Dashed                // a dashed line across
)

// Sheet is a picture of graphs, one above the other. It is data, as it is kept with a message.
type Sheet struct {
	Title  string  `json:"title"`
	Keys   []Key   `json:"keys"`
	Graphs []Graph `json:"graphs"`
}

// Key says what a look stands for.
type Key struct {
	Look Look   `json:"look"`
	Text string `json:"text"`
}

// Graph is a graph over a common axis from 0 to Length.
type Graph struct {
	Name   string  `json:"name"`
	Length float64 `json:"length"`
	Marks  []Mark  `json:"marks"` // along the axis
	Rows   []Row   `json:"rows"`
	Whole  bool    `json:"whole,omitempty"` // the upright axis counts whole things
}

// Mark is a word at a place of the axis.
type Mark struct {
	At   float64 `json:"at"`
	Text string  `json:"text"`
}

// Row is figures drawn alike.
type Row struct {
	Look   Look    `json:"look"`
	Points []Point `json:"points"`
}

// Point is one figure.
type Point struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
}
