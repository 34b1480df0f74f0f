package job

// Air is the air of a room at one time: what its wood comes to.
type Air struct {
	Temperature Ratio // in one of TemperatureUnits
	Humidity    Ratio // per cent, relative
}

// Climate is the air of the room that the guard stands in.
type Climate struct {
	Now, Dry, Damp Air // when it was read; the driest and the dampest of the year
	Coating        CoatingAir
}

// TemperatureUnits are the units that a temperature is written in.
var TemperatureUnits = []string{"°F", "°C", "F", "C"}

var airFields = []field[Air]{
	ratioField("temperature", "of the room", TemperatureUnits, func(a *Air) *Ratio { return &a.Temperature }),
	ratioField("humidity", "relative humidity of the room", []string{"%"}, func(a *Air) *Ratio { return &a.Humidity }),
}

var climateFields = []field[Climate]{
	mapField("now", "as it was read when the guard was measured", airFields, func(c *Climate) *Air { return &c.Now }),
	mapField("dry", "the driest of the year: heated rooms in winter", airFields, func(c *Climate) *Air { return &c.Dry }),
	mapField("damp", "the dampest of the year", airFields, func(c *Climate) *Air { return &c.Damp }),
	mapField("coating", "where coats are put on and dry, on a day like those on which it is done", coatingAirFields, func(c *Climate) *CoatingAir { return &c.Coating }),
}

// Given reports that both readings are there.
func (a Air) Given() bool { return a.Temperature.Given && a.Humidity.Given }

// CoatingAir is the air of the place where coats are put on, and the wood's own warmth.
type CoatingAir struct {
	Air
	Surface Ratio // temperature of the wood, in one of TemperatureUnits
}

var coatingAirFields = []field[CoatingAir]{
	ratioField("temperature", "of the room or the shop", TemperatureUnits, func(a *CoatingAir) *Ratio { return &a.Temperature }),
	ratioField("humidity", "relative humidity there", []string{"%"}, func(a *CoatingAir) *Ratio { return &a.Humidity }),
	ratioField("surface", "temperature of the wood itself, where it is coldest", TemperatureUnits, func(a *CoatingAir) *Ratio { return &a.Surface }),
}
