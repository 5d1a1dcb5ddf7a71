package chat

// Every fixed text that the chat prints stands here. The rules: short plain
// sentences, one thing at a time; the question comes last; no blame, no praise,
// no exclamation marks; certainty in one word in capitals at the start of a
// line; what is typed stands in backquotes.
const (
	greeting = "Hotlug helps you find a fault in a small off-grid system. It gives general guidance; " +
		"local rules and a licensed electrician come first."
	whatIsWrong   = "What is wrong? Say it in your own words. (Or type `list` or `help`.)"
	knownFromRig  = "From the rig file:"
	changeIfWrong = "Type `change` during the chat if something of it is wrong."
	tookItAs      = "I take it as: %s Type `change` if that is not it."
	whichOfThese  = "Which of these is nearest?"
	noneFitsYet   = "I can't match that either. Type a number of the list, or other words."
	noneFits      = "I can't match that. These are the things I know; type the number of the nearest."
	beforeAll     = "Before anything else."
	dangerHeard   = "You said: \"%s\". Is that so right now?"
	dangerMaybe   = "That comes first."
	dangerLeft    = "If any of this is so, get away from it first, and call for help. Touch nothing on the way."
	dangerAgain   = "Once more, before the next step."
	askYesNo      = "yes / no"
	askYesNoSure  = "yes / no / not sure"
	notAnAnswer   = "I can't use that as an answer."
	typeHelp      = "`help` shows what you can type."
	eitherOr      = "Type the number or the word."
	doDone        = "Type `done` when it is done, or `no` if it can't be done."
	fixDone       = "Type `done` when it is done: then comes the proof. Or `later`."
	noFaultDone   = "Type `done` to take the reading that confirms it, or `later`."
	orDontKnow    = "If it can't be had, type `don't know`."
	tooSoon       = "That was typed before the question stood here, so I don't count it. Answer it now."
	noProbes      = "No probes are needed here."
	nothingToShow = "There are no steps to it; the line above says it all."
	howToComplain = "Say it as you would on the phone: `my fuse holder is hot`, `the battery doesn't charge`, `it sparks when I connect it`, `the percentage is wrong`."
	complaintAnew = "Then from the start."
	placesRight   = "Does your system have these?"
	whichPlace    = "Which of these is it?"
	whichHint     = "Type the number, or `none`."
	closeHint     = "Type `again` to take it again, or `go on` with the likelier side."
	betterHint    = "Type `better` to read that, `again` to take the same once more, or `go on` with the likelier side."
	closeOn       = "Within the meter's error: %s"
	steadier      = "A steadier or finer reading would settle it: %s, with all the digits the meter shows."
	retakeFailed  = "Perhaps one of the answers is wrong. This one rules out the most else: %s, %s. Take it once more."
	retakeEmpty   = "Nothing else is left to try, so one of the answers may be wrong. This one rules out the most: %s, %s. Take it once more."
	retakeHint    = "If it can't be taken again, type `don't know`: then it stands as it was."
	asBefore      = "The same as before. It stands, and I go on."
	stillStands   = "Then it stands as it was. I go on."
	otherwise     = "Then the way is another one. I use those of your other answers that still fit."
	otherSlip     = " Or was %s for %s meant to be %s? `change` takes that back."
	oddButSure    = "Confirmed, though odd: %s"
	sureHint      = "Type the reading again, or `sure` if it really says so."
	ruledOut      = "Ruled out, the latest first:"
	stillPossible = "Still possible, most likely first:"
	noted         = "Noted."
	undone        = "Taken back."
	photoHow      = "Type `photo` and the path of a JPEG or PNG file."
	photoKept     = "Attached: a copy, %s, %d by %d pixels. Where and when it was taken is not in it."
	photoRefused  = "I can't attach %s: %s."
	photoNotKept  = "Nothing of this is kept, so there is nothing to attach a photo to."
	nothingToSay  = "Nothing is established yet."
	narrowedHead  = "NOT SETTLED. What can still be the cause, most likely first:"
	narrowedNone  = "NOT SETTLED. None of the causes I know fits what you have told me."
	stopHead      = "STOP. %s"
	stopUnsure    = "STOP. Nobody is sure, so take it as the worst: %s"
	savedAs       = "Saved as session %s. `hotlug ticket %s` writes it out for somebody else."
	resumeWith    = "Resume with `hotlug chat --resume %s`."
	leaveSafe     = "Leave it safe: loads off, nothing half connected, covers on."
	leaveOrWrong  = "Do you want to leave, or is something wrong at the rig?"
	leaveHint     = "leave / wrong / neither"
	notKept       = "This answer could not be saved: %s. The chat goes on; what is said from here may be lost."
	changeOld     = "So far you said:"
	heldBack      = "I keep your later answers and use those that still fit."
	lawFirst      = "This is general guidance. Local rules come first, and a licensed electrician where they ask for one."
	laterPending  = "Left for later."
	provenLine    = "PROVEN. The cause was this: %s"
	provenSound   = "PROVEN, and no fault: %s"
	tookOver      = "From here on I take as %s: %s. If it is another, type `change %s`."
	nowIs         = "And now?"
	refutedLine   = "The proof did not hold, so that was not the cause, or not the only one."
	secondFault   = "There is a second fault besides."
	nothingHelps  = "No further words here; the question says all I know."
	leftOut       = "Left out."

	interviewBegins   = "A rig file for %s. Each answer is kept as you give it; leave when you like."
	interviewGoesOn   = "You had begun the rig file for %s. I go on after the %d answers that you gave."
	interviewHow      = "`don't know` leaves a thing out, `back` takes the last answer back, `how` and `why` explain, `done` ends here, `quit` leaves it for later."
	interviewEnds     = "The rest is left out."
	interviewDanger   = "If something smokes, swells, hisses or is too hot to touch right now, get away from it and call for help. Then start `hotlug` and tell it. The rig file can wait."
	interviewFuseName = "I need a name of its own for each, of letters and digits, as in `fridge`."

	helpFirst    = "Answer in your own way: `12.6`, `180 mV`, `yes`, a word or a number of the list."
	placesListed = "There is no rig file, so I go by what most systems have:"
)

// helpLines is the list of commands, each with what it does.
var helpLines = [][2]string{
	{"why", "what the answer separates"},
	{"how", "how to take it, step by step"},
	{"where", "where the probes go"},
	{"back", "take back the last answer"},
	{"don't know", "when it can't be had; I try another way"},
	{"change", "give an earlier answer anew"},
	{"note ...", "write something down for the ticket"},
	{"photo PATH", "attach a picture to the ticket"},
	{"= ...", "work something out, as in `= 0.18 V / 42 A`; `calc` lists more"},
	{"so far", "what is established and what is open"},
	{"stop", "leave, or say that something is wrong"},
	{"quit", "leave; nothing is lost"},
}
