package summary

import (
	"jointwalk/calc/picture"
	"jointwalk/calc/quantity"
	"jointwalk/sync/record"
)

// MeasureQuestion asks for the size of a bubble in a picture, while it is being pointed at.
type MeasureQuestion struct {
	Picture record.Pointed `json:"picture"`
}

// Measure is the diameter in millimetres with its 95 % interval, the input that makes it widest, and the fitted rim to be drawn into the picture; or why it cannot be said.
type Measure struct {
	Diameter  string        `json:"diameter,omitempty"`
	Low       string        `json:"low,omitempty"`
	High      string        `json:"high,omitempty"`
	Dominant  string        `json:"dominant,omitempty"`
	Outline   []record.Spot `json:"outline,omitempty"`
	CannotSay string        `json:"cannotSay,omitempty"`
}

// Measure answers how large a bubble is in a picture.
func (d *Desk) Measure(q MeasureQuestion) (Measure, error) {
	found, err := pointedAt(&q.Picture)
	if err != nil {
		return Measure{CannotSay: codeOf(err)}, nil
	}
	of := found.Size.Distribution()
	m := Measure{Diameter: millimetres(float64(found.Size.Diameter)), Low: millimetres(of.Quantile(0.025)), High: millimetres(of.Quantile(0.975))}
	most := 0.0
	for _, part := range found.Budget {
		if part.Percent > most {
			most, m.Dominant = part.Percent, part.Input
		}
	}
	for _, at := range found.Outline {
		m.Outline = append(m.Outline, record.Spot(at))
	}
	return m, nil
}

func millimetres(metres float64) string { return quantity.Number(metres*1000, 3) }

// pointedAt measures what somebody pointed at.
func pointedAt(p *record.Pointed) (picture.Measured, error) {
	of, err := pictureOf(p)
	if err != nil {
		return picture.Measured{}, err
	}
	return of.Measure()
}

func pictureOf(p *record.Pointed) (of picture.Picture, err error) {
	if p == nil || len(p.Marks) != record.MarksOfScale {
		return of, &quantity.Fault{Code: quantity.CodeRange, Field: "scale"}
	}
	of = picture.Picture{Width: float64(p.Width), Height: float64(p.Height)}
	for i, at := range p.Marks {
		of.Marks[i] = picture.Point(at)
	}
	for _, at := range p.Rim {
		of.Rim = append(of.Rim, picture.Point(at))
	}
	if p.Tube != nil {
		of.Tube, err = lengthOf(p.Tube, "tube")
		return of, err
	}
	if of.Long, err = lengthOf(p.Long, "scale"); err == nil {
		of.Short, err = lengthOf(p.Short, "scale")
	}
	return of, err
}
