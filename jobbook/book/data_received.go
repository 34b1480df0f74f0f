package book

import "balustrade/jobbook/job"

// What came, as plan.json has it.

type dataDelivery struct {
	Name     string         `json:"name" doc:"name of its file" unit:"text"`
	Title    string         `json:"title,omitempty" doc:"its name on a page" unit:"text"`
	Received string         `json:"received,omitempty" doc:"the day it came, as written" unit:"date"`
	From     string         `json:"from,omitempty" doc:"whom it came from, as written" unit:"text"`
	Items    []dataReceived `json:"items" doc:"what came, part by part" unit:"none"`
}

type dataReceived struct {
	Part      string       `json:"part" doc:"name of the part, or of the finish" unit:"text"`
	Kind      string       `json:"kind,omitempty" doc:"kind of the part, where it was written" unit:"text"`
	Count     *int         `json:"count,omitempty" min:"0" doc:"how many came; absent where they were not counted" unit:"pieces"`
	Broken    int          `json:"broken" min:"0" doc:"of those, not fit for use" unit:"pieces"`
	Back      int          `json:"back" min:"0" doc:"of those, sent back" unit:"pieces"`
	Sticks    []dataLength `json:"sticks" doc:"length of every stick" unit:"length"`
	Bent      []string     `json:"bent" doc:"runs whose bent rail or shoe came" unit:"text"`
	Can       string       `json:"can,omitempty" doc:"size of each can" unit:"text"`
	Coat      string       `json:"coat,omitempty" doc:"of a finish: which coat" unit:"text"`
	Wide      *dataLength  `json:"wide,omitempty" doc:"width as most of them are" unit:"length"`
	Narrowest *dataLength  `json:"narrowest,omitempty" doc:"width of the narrowest" unit:"length"`
	Widest    *dataLength  `json:"widest,omitempty" doc:"width of the widest" unit:"length"`
	Waist     *dataLength  `json:"waist,omitempty" doc:"thinnest turned place of a baluster, the least that was gauged" unit:"length"`
	High      *dataLength  `json:"high,omitempty" doc:"height of a section" unit:"length"`
	Long      *dataLength  `json:"long,omitempty" doc:"length of the shortest" unit:"length"`
	Thick     *dataLength  `json:"thick,omitempty" doc:"thickness" unit:"length"`
	PlowWide  *dataLength  `json:"plowWide,omitempty" doc:"width of the groove where it is narrowest" unit:"length"`
	PlowDeep  *dataLength  `json:"plowDeep,omitempty" doc:"depth of the groove where it is least deep" unit:"length"`
	PinWide   *dataLength  `json:"pinWide,omitempty" doc:"diameter of the largest pin" unit:"length"`
	PinLong   *dataLength  `json:"pinLong,omitempty" doc:"length of the longest pin" unit:"length"`
	Bow       *dataLength  `json:"bow,omitempty" doc:"of the worst" unit:"length"`
	Moisture  []string     `json:"moisture" doc:"what a meter read, as written" unit:"text"`
	Batch     string       `json:"batch,omitempty" doc:"colour batch" unit:"text"`
	Note      string       `json:"note,omitempty" doc:"anything else about it" unit:"text"`
	At        *dataPlace   `json:"at,omitempty" doc:"where it was written" unit:"none"`
}

type dataRealSize struct {
	Kind    string      `json:"kind" doc:"kind of the part" unit:"text"`
	Part    string      `json:"part" doc:"the part's name" unit:"text"`
	What    string      `json:"what" doc:"which size" unit:"text"`
	Written *dataLength `json:"written,omitempty" doc:"as the part's file has it; absent where it has none" unit:"length"`
	Real    dataLength  `json:"real" doc:"as read" unit:"length"`
	At      *dataPlace  `json:"at,omitempty" doc:"where the reading was written" unit:"none"`
}

func (d dataWriter) delivery(x *job.Delivery) dataDelivery {
	return dataDelivery{x.Name, x.Title.Text, x.Received.Text, x.From.Text, eachOf(x.Items, d.received)}
}

func (d dataWriter) received(r job.Received) dataReceived {
	read := func(m job.Measure) *dataLength { return d.lengthIf(m.Given, m.Length) }
	out := dataReceived{
		Part: r.Part.Text, Kind: r.Kind.Text, Broken: r.Broken.N, Back: r.Back.N, Sticks: eachOf(r.Sticks, func(m job.Measure) dataLength { return d.length(m.Length) }), Coat: r.Coat.Text,
		Wide: read(r.Wide), Narrowest: read(r.Narrowest), Widest: read(r.Widest), Waist: read(r.Waist), High: read(r.High), Long: read(r.Long), Thick: read(r.Thick),
		PlowWide: read(r.Plow.Wide), PlowDeep: read(r.Plow.Deep), PinWide: read(r.Pin.Wide), PinLong: read(r.Pin.Long), Bow: read(r.Bow), Batch: r.Batch.Text, Note: r.Note.Text, At: placeIf(r.At),
		Moisture: eachOf(r.Moisture, ratio), Bent: eachOf(r.Bent, func(run job.Ref) string { return run.Text }),
	}
	if r.Count.Given {
		out.Count = &r.Count.N
	}
	if r.Can.Given {
		out.Can = ratio(r.Can)
	}
	return out
}

func (d dataWriter) realSizes() []dataRealSize {
	if d.plan.Written == nil {
		return []dataRealSize{}
	}
	return eachOf(d.job.RealSizes(d.plan.Written.Job), func(s job.RealSize) dataRealSize {
		return dataRealSize{s.Kind, s.Part, s.What, d.lengthIf(s.Written.Given, s.Written.Length), d.length(s.Real.Length), placeIf(s.Real.At)}
	})
}

func (d dataWriter) asWritten() []dataWay {
	out := []dataWay{}
	if d.plan.Written == nil || len(d.job.Deliveries) == 0 {
		return out
	}
	for _, r := range d.plan.Written.Layout.Runs {
		way := dataWay{Run: r.Name}
		if r.Chosen != nil {
			c := d.candidate(*r.Chosen)
			way.Chosen = &c
		}
		out = append(out, way)
	}
	return out
}
