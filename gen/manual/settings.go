package manual

// settingPages are about what a command line or a variant says in place of the files.
func settingPages() []Page {
	check := "check " + PlanName
	variants := func(entry string) Example { return in("motion:", "variants:\n"+entry+"\nmotion:") }
	const vary = "vary " + PlanName + " --family listing -o out"
	return []Page{
		found("set-path", "A path of \"--set\" or of a variant leads nowhere.", "Write the names as they stand in the file, with dots between them; list items count from 1.", "").by(check + " --set grids.tray.rowz=3"),
		found("set-value", "A \"--set\" has no value behind its equals sign.", "Write null to leave the place open, \"\" for an empty text.", "").by(check + " --set grids.tray.rows="),
		untold("set-hidden", "A value is set that a file of measured values replaces.", "Set what the measured file says instead.", "It takes a cell with a file of measured values."),
		untold("said-twice", "Two flags say what one grid holds.", "Keep one of the two.", "It takes two flags: --contents twice, for one grid."),
		untold("too-many-settings", "A variant sets more than a thousand values, or all variants together set more than are read.", "Set in the plan what all have in common, or a whole list or mapping as one value.", "Its example would be a thousand values."),
		found("no-variants", "The plan has no variants, and \"vary\" asks for them.", "Write \"variants\" into the plan, or name a file of them with --variants.", "").by(vary),
		found("variant-twice", "Two variants have one name.", "Give one of the entries another \"name\".", variants("  - {name: small, set: {motion.approach: 60}}\n  - {name: small, set: {motion.approach: 70}}")).by(vary).good(variants("  - {name: small, set: {motion.approach: 60}}")),
		found("variant-value", "A variant gives no value for a path.", "Write at least one.", variants("  - {name: none, each: {motion.approach: []}}")).by(vary).good(variants("  - {name: all, each: {motion.approach: [60, 70]}}")),
		untold("too-many-variants", "There are more than 10,000 variants, or they read more than 64 MiB together.", "Spread them over several files of variants.", "Its example would be ten thousand variants."),
	}
}
