package manual

// armPages are about the arm that a cell describes.
func armPages() []Page {
	return []Page{
		found("arm-unknown", "A configuration of the arm is asked for, and the cell does not say what the arm is.", "Give the arm in the cell, under \"arm\".", in("  clear: clear", "  clear: clear\n  configuration: front up up")),
		found("joints-without-arm", "A pose is given by readings of joints, and the cell does not say what the arm is.", "Add \"arm\" to the cell, or write the pose with \"at\" and \"rpy\".",
			in("    clear: {at: [330, 0, 300]}", "    clear: {joints: [0, 0, 0, 0, 0, 0]}")),
		found("no-such-configuration", "The arm has no configuration of that name.", "Write one of those that the hint names.",
			gantry()+in("  clear: clear", "  clear: clear\n  configuration: left up up")),
		untold("arm-unsolved", "No readings can be worked out for the poses of such an arm: some of its joints can be moved against each other at every pose.", "Correct its joints, or leave \"arm\" out: all but the joints is looked at without it.",
			"An arm that is unsolved is one of many joints, and does not fit in a few lines."),
		untold("known-off", "By the arm in the cell, a pose that was read off the controller is somewhere else.", "Look at the sign that the hint names, or read the pose again.", "It takes an arm and readings off its controller."),
		found("urdf-unreadable", "The URDF file of the arm cannot be read.", "Name a file that lies beside the cell.", arm("none.urdf")),
		found("bad-urdf", "The file is no XML, or no URDF of an arm.", "Look at the place; was all of the file saved?", arm("arm.urdf")+beside("arm.urdf", "<robot name=\"arm\"><link name=\"base\">")),
		found("urdf-macros", "The file holds the macros that URDF is made from, and is no URDF yet.", "Expand it first, with the tool that its macros were written for.",
			arm("arm.urdf")+beside("arm.urdf", "<robot name=\"arm\" xmlns:xacro=\"http://www.ros.org/wiki/xacro\">\n<xacro:property name=\"h\" value=\"1\"/>\n</robot>")),
		found("urdf-joint", "A joint of the arm is of a kind that no drive moves, or follows another one.", "Name links with \"from\" and \"to\" between which every joint moves by itself.",
			arm("arm.urdf")+beside("arm.urdf", twoLinks+"<joint name=\"J1\" type=\"planar\"><parent link=\"base\"/><child link=\"tip\"/></joint>\n</robot>")),
		untold("urdf-apart", "No joints lead from the one named link to the other.", "Name a link nearer to the base.", "It takes an arm with several branches."),
		found("urdf-tips", "The links end in several tips, and nothing says which the flange is.", "Say which: \"to: tip\".",
			arm("arm.urdf")+beside("arm.urdf", twoLinks+"<link name=\"camera\"/>\n"+turns("J1", "base", "tip")+turns("J2", "base", "camera")+"</robot>")),
		untold("urdf-mesh", "The shape of a link stands in a file of its own, which is not read.", "Write a capsule around it under \"links\" of the arm.", "It takes a whole arm.").warning(),
		untold("urdf-passed-over", "An element is passed over that looks like one that is read, with a slip in its name.", "Write the name that the hint has.", "It takes a whole arm.").warning(),
	}
}

// arm gives the cell an arm from a file.
func arm(file string) Example { return in("  frames:", "  arm: {urdf: "+file+"}\n  frames:") }

const twoLinks = "<robot name=\"arm\">\n<link name=\"base\"/>\n<link name=\"tip\"/>\n"

func turns(name, from, to string) string {
	return "<joint name=\"" + name + "\" type=\"revolute\"><parent link=\"" + from + "\"/><child link=\"" + to + "\"/><axis xyz=\"0 0 1\"/><limit lower=\"-1\" upper=\"1\" effort=\"1\" velocity=\"1\"/></joint>\n"
}

// gantry gives the cell a machine of three sliding joints and one that turns.
func gantry() Example {
	return in("  frames:", `  arm:
    joints:
      - {name: X, slides: [1, 0, 0], range: [-900, 900]}
      - {name: Y, slides: [0, 1, 0], range: [-900, 900]}
      - {name: Z, slides: [0, 0, 1], range: [-900, 900]}
      - {name: C, axis: [0, 0, 1], point: [0, 0, 0], range: [-180, 180]}
    flange: {at: [0, 0, 500], rpy: [180, 0, 0]}
  frames:`)
}
