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
