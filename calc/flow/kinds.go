package flow

// behaviour is what is believed of a kind of joint, nil for a kind that is not known, and the reason why its leak cannot be
// carried over when the gas turns, "" where it can. All of it is judgement: common practice, no source.
func behaviour(kind string) (weights []Share, turned string) {
	switch kind {
	case "compression", "flared", "pipe-thread", "manifold-plug":
		return thread(), ""
	case "tube-wall", "weld":
		return wall(), ""
	case "check-valve", "valve-seat", "regulator", "rod-seal":
		return seal(), CannotOneWay
	case "push-to-connect", "face-seal", "part-seal", "instrument-port", "quick-coupling", "hose-barb", "bulkhead",
		"valve-stem", "filter-bowl", "gasket":
		return seal(), CannotElastic
	}
	return nil, ""
}

// thread is metal on metal: long winding channels, hardly ever a hole.
func thread() []Share {
	return []Share{
		{Model: ModelLaminar, Weight: 0.7}, {Model: ModelWide, Weight: 0.1}, {Model: ModelNarrow, Weight: 0.1},
		{Model: ModelOrifice, Weight: 0.1}, {Model: ModelMolecular},
	}
}

// wall is a crack or a pinhole, often as wide as it is long.
func wall() []Share {
	return []Share{
		{Model: ModelLaminar, Weight: 0.5}, {Model: ModelWide, Weight: 0.1}, {Model: ModelNarrow, Weight: 0.1},
		{Model: ModelOrifice, Weight: 0.3}, {Model: ModelMolecular},
	}
}

// seal is rubber or plastic on something: its channels are laminar as long as it does not move.
func seal() []Share {
	return []Share{
		{Model: ModelLaminar, Weight: 0.4}, {Model: ModelWide, Weight: 0.1}, {Model: ModelNarrow, Weight: 0.1},
		{Model: ModelCloser, Weight: 0.2}, {Model: ModelWider, Weight: 0.2},
	}
}
