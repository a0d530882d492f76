package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"rollchange/model"
	"rollchange/scenarios/observed"
	"rollchange/sim/replicate"
)

// addRecords adds the flag of a command whose figures can say what the records of the
// line leave open.
func (o *options) addRecords(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&o.records, "records", "", "give every figure a second half width that includes what the records leave open, for all laws that say how many values are observed; --records=none: none")
	f.Lookup("records").NoOptDefVal = string(model.RecordsObserved)
}

// recordsOf are the records whose uncertainty the figures of a study are to say; nil:
// none. Where neither flag nor scenario says it, a report does where a law says how much
// was observed.
func (o *options) recordsOf(study *model.Study) (*observed.Records, error) {
	r := observed.Of(study)
	switch study.Run.Records {
	case model.RecordsNone:
		return nil, nil
	case model.RecordsByCommand:
		if !o.recordsUsual || !r.Said() {
			return nil, nil
		}
	case model.RecordsObserved:
		if r == nil {
			return nil, fmt.Errorf("rollchange: --records: no law of the scenario says how many values stand behind it: write observed = 37 beside its mean, or let rollchange fit write it")
		}
	}
	if o.part != "" || o.resume != "" {
		return nil, fmt.Errorf("rollchange: --records: a run in parts has figures without; leave out --part and --resume, or say --records=none")
	}
	return r, nil
}

// leaveOpen puts what the records leave open into the results of a study, where that is
// asked for.
func (o *options) leaveOpen(cmd *cobra.Command, study *model.Study, rs *replicate.Results) error {
	r, err := o.recordsOf(study)
	if err != nil || r == nil || rs == nil {
		return err
	}
	bar := newProgress(cmd.ErrOrStderr(), "records drawn anew", 0)
	defer bar.Done()
	return asError(cmd, replicate.LeaveOpen(cmd.Context(), study, rs, r, replicate.Options{Workers: o.workers, Progress: bar.Set}))
}

// storageRecords are the records that a storage is to hold its risk over; nil: none. That
// there are none where they are asked for is said before any work; a scenario that asks for
// them itself means what there is.
func (o *sizeOptions) storageRecords(study *model.Study) (replicate.Records, error) {
	if study.Run.Records != model.RecordsObserved {
		return nil, nil
	}
	if r := observed.Of(study); r != nil {
		return r, nil
	}
	if o.records == "" {
		return nil, nil
	}
	asked := ""
	for _, rewind := range o.stores(&study.Alternatives[0].Line) {
		asked = ends[rewind] + ".dwell"
	}
	return nil, fmt.Errorf("--records: %s does not say how many values stand behind it: write observed = 37 beside its mean", asked)
}

// ends are the ends of a line, by whether it is the rewind.
var ends = map[bool]string{false: "unwind", true: "rewind"}

// stores are the ends of a line with a storage that are asked for: false for the unwind,
// true for the rewind.
func (o *sizeOptions) stores(line *model.Line) []bool {
	var list []bool
	for _, rewind := range []bool{false, true} {
		kind := line.Unwind.Change
		if rewind {
			kind = line.Rewind.Change
		}
		if kind.Stores() && (o.station == "" || o.station == ends[rewind]) {
			list = append(list, rewind)
		}
	}
	return list
}
