"""Sentences of the demo that belong to nobody in particular. Plain data."""

# What clients say at the close.
SAID = (
    "I feel longer.",
    "My feet are awake.",
    "Harder than it looks.",
    "I slept well after last time.",
    "That was the best hour of the week.",
    "I did my homework, nearly all of it.",
    "I did not do my homework.",
    "Lighter than when I came in.",
    "The breathing is the hard part.",
    "My seat muscles send their regards.",
    "I was late and you were not cross.",
    "Can I stay lying here?",
    "Something let go in the middle.",
    "Standing feels different now.",
    "I noticed it on the stairs on Sunday.",
    "Shaky, in a good way.",
    "Nothing hurts. I looked.",
    "I can feel both sides now.",
    "Calmer.",
    "Thirsty.",
    "I like knowing what comes next.",
    "More tired than I thought I would be.",
    "The last one was worth it.",
    "My shoulders are somewhere else.",
    "A good day for it.",
    "I understood the pelvis today.",
    "My balance was rubbish and I laughed.",
    "Warm all over.",
    "I would not have come, but I am glad I did.",
    "It was quiet in here. That helped.",
)

# Notes that an instructor writes again and again beside an exercise.
NOTED = ("Neck gripped", "Held the breath", "Rested early", "Rushed the way back")
NOTED_WELL = ("Ready for more", "Long and quiet", "Found it alone")

# What they say in a bad spell after its first session.
STILL = (
    "A little better than last time.",
    "Still there, only quieter.",
    "I kept it small, as you said.",
    "Two good days and one bad one.",
    "It was right to do less.",
    "I am cross with it.",
)

# Lines for next time while a bad spell lasts, and in ordinary weeks.
GENTLY = (
    "Ask first. Small ranges, few repetitions.",
    "Same again, no heavier, more breath.",
    "Begin with what went well today.",
    "If it is quieter, one thing more; if not, one less.",
)
LATER = (
    "Ask about the home practice before we start.",
    "Start with breath, the rest follows.",
    "Less talking, more counting.",
    "Keep the order, it suits.",
    "A pause before the last two rows.",
    "Show it once, then let it be.",
    "Watch the feet from the door.",
    "Finish standing, as today.",
)

# Lines for next time about another spring; way is Heavier or Lighter.
SPRUNG = (
    "{way} in {name}: {springs}. That is the harder way, and it was steady four times.",
    "{name}: {springs} next, since it has been steady for weeks.",
    "Ready for {springs} in {name}; go back at the first wobble.",
)

# Lines for next time about the side that came off worse.
LIKE = (
    "{name}: {side} side first and slower.",
    "{Side} side first in {name}, look at it from behind.",
    "{name}: two fewer on the {side} if it shakes.",
    "Wait for the {side} side in {name}; it comes if one does not hurry it.",
    "{name}: cue the {side} side before it starts, not after.",
)

# What the next session notes at the row that took a line up.
TAKEN_UP = {
    "harder": "One step harder, as written last time.",
    "softer": "One step back, as written last time.",
    "side": "Began with that side, as written last time.",
    "new": "New today, as written last time.",
    "words": "",
}
