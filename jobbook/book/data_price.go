package book

import (
	"encoding/json"

	"balustrade/jobbook/price"
	"balustrade/jobbook/working"
)

// The price as plan.json has it. Like the whole of plan.json it is the shop's own.

type dataPrice struct {
	Currency    string          `json:"currency" doc:"sign of the money that every amount is in" unit:"text"`
	Known       bool            `json:"known" doc:"there is a total: an hour has its price, and no amount is too large" unit:"none"`
	Complete    bool            `json:"complete" doc:"nothing is missing; else a total is what it comes to at the least" unit:"none"`
	Minutes     int             `json:"minutes" min:"0" doc:"working time that is reckoned with" unit:"minutes"`
	Materials   []dataPriceLine `json:"materials" doc:"what is bought, by supplier" unit:"none"`
	Labour      []dataPriceLine `json:"labour" doc:"working time, by step" unit:"none"`
	Sums        []dataPriceLine `json:"sums" doc:"from materials and labour to the total, in order" unit:"none"`
	Guard       json.Number     `json:"guard,omitempty" doc:"price of the guard, rounded up, before extras, discount, allowances and tax on everything; absent while there is no total" unit:"currency"`
	Net         json.Number     `json:"net,omitempty" doc:"before tax on everything; absent while there is no total" unit:"currency"`
	Tax         json.Number     `json:"tax,omitempty" doc:"on everything, or on materials: then it is in the guard's price; absent while there is no total" unit:"currency"`
	Total       json.Number     `json:"total,omitempty" doc:"what is asked for the job; absent while it is not known" unit:"currency"`
	PerLength   json.Number     `json:"perLength,omitempty" doc:"the guard for a foot or a metre of handrail" unit:"currency"`
	PerBaluster json.Number     `json:"perBaluster,omitempty" doc:"the guard for each baluster" unit:"currency"`
	Offer       []dataPriceLine `json:"offer" doc:"the lines that the client sees; empty where the client sees none, or the total alone" unit:"none"`
	Asks        []dataReading   `json:"asks" doc:"what is still to be given before the price is whole" unit:"none"`
}

type dataPriceLine struct {
	Title  string      `json:"title" doc:"what it is for" unit:"text"`
	About  string      `json:"about,omitempty" doc:"how much of it, or what it is a share of" unit:"text"`
	Amount json.Number `json:"amount,omitempty" doc:"absent while it is not known" unit:"currency"`
	Sum    bool        `json:"sum" doc:"it is the sum of every line above it that is none" unit:"none"`
	Figure string      `json:"figure,omitempty" doc:"id of its working" unit:"text"`
	At     *dataPlace  `json:"at,omitempty" doc:"where it was written" unit:"none"`
}

func (d dataWriter) price(p price.Estimate) dataPrice {
	line := func(l price.Line) dataPriceLine {
		out := dataPriceLine{Title: l.Title, About: l.About, Sum: l.Sum, Figure: l.Figure, At: placeIf(l.At)}
		if l.Known {
			out.Amount = amountOf(l.Amount)
		}
		return out
	}
	out := dataPrice{
		Currency: d.job.Shop.Currency.Text, Known: p.Known, Complete: p.Complete, Minutes: p.Minutes,
		Materials: eachOf(p.Materials, line), Labour: eachOf(p.Labour, line), Sums: eachOf(p.Sums, line), Offer: eachOf(p.Offer.Lines, line), Asks: eachOf(p.Asks, d.reading),
	}
	if p.Known {
		out.Guard, out.Net, out.Tax, out.Total = amountOf(p.Guard), amountOf(p.Net), amountOf(p.Tax), amountOf(p.Total)
	}
	each := func(f *working.Figure) json.Number {
		if f == nil {
			return ""
		}
		return json.Number(working.Decimal(f.Value))
	}
	out.PerLength, out.PerBaluster = each(p.PerLength), each(p.PerBaluster)
	return out
}

// priceCSV is the price for a spreadsheet, one part after the other.
func (d dataWriter) priceCSV() File {
	s := sheet{path: "data/price.csv", head: []string{"part", "what", "about", "amount", "currency", "sum", "working"}}
	p := d.plan.Price
	for _, part := range []struct {
		name  string
		lines []price.Line
	}{{"materials", p.Materials}, {"labour", p.Labour}, {"sums", p.Sums}, {"offer", p.Offer.Lines}} {
		for _, l := range part.lines {
			amount := cell("")
			if l.Known {
				amount = cell(l.Amount.String())
			}
			s.row(cell(part.name), cellText(l.Title), cellText(l.About), amount, cellText(d.job.Shop.Currency.Text), cellYesNo(l.Sum), cellText(l.Figure))
		}
	}
	return s.file()
}
