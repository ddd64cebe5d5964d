# The words of pages and sheets in English: the source of all other catalogues.
#
# A value in braces is filled in. `FORM($side)` and the like stand for a word of the first group below, in a form for its
# place in the sentence; `WORD($number)` is a small number as a word. `$em`, `$strong`, `$unseen` and `$heard` open a
# markup that the value of the same name with `_end` closes.

## Words that are filled in

white = White
black = Black
king = king
    .several = kings
queen = queen
    .several = queens
    .given = a queen
rook = rook
    .several = rooks
    .given = a rook
bishop = bishop
    .several = bishops
    .given = a bishop
knight = knight
    .several = knights
    .given = a knight
pawn = pawn
    .several = pawns
    .given = a pawn
number-0 = no
number-1 = one
number-2 = two
number-3 = three
number-4 = four
number-5 = five
number-6 = six
number-7 = seven
number-8 = eight
number-9 = nine
number-10 = ten
number-11 = eleven
number-12 = twelve

## Numbers of things

list = { $first } and { $last }
semicolon = { "; " }
games-counted = { $number ->
    [one] { $number } game
   *[other] { $number } games
}
lessons-counted = { $number ->
    [one] { $number } lesson
   *[other] { $number } lessons
}
exercises-counted = { $number ->
    [one] { $number } exercise
   *[other] { $number } exercises
}
points-counted = { $number ->
    [one] { $number } point
   *[other] { $number } points
}

## Kinds of sacrifice as the tables call them

kind-free = free
kind-desperado = desperado
kind-sham = sham
kind-real = real
kind-declined = declined

## All pages

skip-to-content = Skip to content
on-this-page = On this page
made-by = Made by hecatomb { $version }.
read-as-they-are = The tables were read as they are (--edited): that nobody changed them was not checked.
only-these-kinds = Only offers of this kind are counted: { $kinds }.
only-these-kinds-by-force = Only offers of this kind by force are counted: { $kinds }.

## Diagrams, for people who hear them

diagram = Chess diagram
diagram-men = { $count ->
    [one] { FORM($man) } { $squares }
   *[other] { FORM($man, as: "several") } { $squares }
}
diagram-no-men = no men
diagram-side = { FORM($side) }: { $men }
to-move = { FORM($side) } to move
diagram-ringed = Ringed: { $squares }.
diagram-line = A line from { $from } to { $to }.

## Boards to step through

board-keys = Board; the arrow keys step through the moves
board-plain = Board
board-at-move = { $move } ({ $at } of { $last })
board-at-start = The start of the game
game-after-move = Game { $number }, after { $move }
game-at-start = Game { $number }, at the start
game-before-offer = Game { $number }, before the offer
game-as-it-opens = Game { $number }, as it opens

## What an exercise asks

exercises-mixed = Exercises on sacrifices
exercise-find = Find the offer
    .word = find
    .asks = The side to move can give something up and come out ahead. Find the offer, and what follows if it is accepted and if it is declined.
exercise-judge = Does it work?
    .word = judge
    .asks = The line in each diagram is an offer. Does it work? Give a reason: the moves that make it work, or the reply that makes it fail. About half of them fail.
    .caution = Here an offer works if it leaves its side better, and no other move leaves that side clearly more; it does not work if it runs into mate, or throws away what another move keeps.
exercise-continue = Accepted: what now?
    .word = continue
    .asks = The offer was accepted. Find the move that justifies it, and what follows.
exercise-defend = The best defence
    .word = defend
    .asks = Something is offered, or was just taken. One reply is clearly better than all others. Find it: is the offer to be taken, and with which man? Where does the king go? Say what is wrong with the others.
exercise-mate = Mate in one or two
    .word = mate
    .asks = The attack is nearly over. Find the mate in the stated number of moves, against every defence.
exercise-reply = The one reply
    .word = reply
    .asks = The line is an offer that was just made. All replies but one run into mate in the stated number of moves or fewer. Find the one that does not, and say how the others are mated.
exercise-king = Where the king must not go
    .word = king
    .asks = The offer was taken, and the attack goes on. Which moves of the king run into mate in the stated number of moves or fewer? Name them all, and the mates.
exercise-check = Is it mate?
    .word = check
    .asks = The line in each diagram is a check. Is it mate? If it is not, name a way out. About half of them are mate.
exercise-count = Count the men
    .word = count
    .asks = How many men attack the ringed square, and how many guard it? The king counts, and so does a pinned man. A man behind another on the same line does not.

# Questions. A form `.among-others` stands where exercises next to it ask for something else.
question-find = { FORM($side) } to move
    .among-others = { FORM($side) } to move: find the offer
question-judge = Does { FORM($side) }'s { $move } work?
question-continue = After { $moves }, { FORM($side) } to move
    .among-others = After { $moves }, { FORM($side) } to move: what now?
question-defend = After { $moves }, { FORM($side) } to move
    .among-others = After { $moves }, { FORM($side) } to move: find the best defence
question-mate = { FORM($side) } to move and mate in { WORD($number) }
question-reply = After { $moves }, which reply avoids mate in { WORD($number) }?
question-king = { $number ->
    [1] After { $moves }, which moves of the king run into mate in one?
   *[other] After { $moves }, which moves of the king run into mate in { WORD($number) } or fewer?
}
question-check = Is { FORM($side) }’s { $move } mate?
question-count = How many of { FORM($attacker) }’s men attack { $square }, and how many of { FORM($defender) }’s guard it?

## Solutions

answer-works = It works
answer-fails = It does not work
answer-mate = It is mate
answer-no-mate = It is not mate
answer-into-mate = Into mate
moves-come-to = { $moves }: { $says }.
also-correct = Also correct:
aside-reply = Or:
aside-mistake = A mistake:
aside-better = Better:
aside-into-mate = And:
aside-not-into-mate = Not so:

# What moves come to: the end of a sentence after a colon or in brackets. As a sentence it begins with a capital and ends
# with a full stop.
comes-to-mates = { $moves ->
    [1] { FORM($side) } mates
   *[other] { FORM($side) } mates in { $moves }
}
comes-to-gains = { $pawns ->
    [1] { FORM($side) } comes out a pawn up
   *[other] { FORM($side) } comes out { $pawns } pawns up
}
comes-to-loses = { $pawns ->
    [1] { FORM($side) } comes out a pawn down
   *[other] { FORM($side) } comes out { $pawns } pawns down
}
comes-to-level = the material comes out level
comes-to-draw = a draw
comes-to-open = the fight goes on
comes-to-winning = { FORM($side) } is winning
comes-to-winning-by-points = { FORM($side) } is winning, { $points } of 100 points expected
comes-to-much-better = { FORM($side) } is much better, { $points } of 100 points expected
comes-to-better = { FORM($side) } is better, { $points } of 100 points expected
comes-to-about-even = the chances are about even, { $points } of 100 points expected for { FORM($side) }
comes-to-even = the chances are even
comes-to-no-mate = no mate in { WORD($moves) }
comes-to-no-check = { FORM($side) } gets out of check
comes-to-count = { FORM($attacker) } attacks { $square } with { $attackers }, { FORM($defender) } guards it with { $guards }
men-counted = { $number ->
    [1] one man ({ $squares })
   *[other] { WORD($number) } men ({ $squares })
}
best-play = Best play, as far as it was found.

# What the level depends on.
features-reply = { $number } replies to look at
features-king = { $number ->
    [one] { $number } move to look at
   *[other] { $number } moves to look at
}
features-check = { $number ->
    [one] { $number } square to look at beside the king
   *[other] { $number } squares to look at beside the king
}
features-count = men to count: { $number }
features-moves = { $number ->
    [one] { $number } move
   *[other] { $number } moves
}
features-quiet = { $number ->
    [0] none quiet
    [1] one quiet
   *[other] { $number } quiet
}
features-offered = { $number ->
    [one] { $number } pawn offered
   *[other] { $number } pawns offered
}
features-tempting = { $number ->
    [0] nothing else tempts
    [1] one other move may tempt
   *[other] { $number } other moves may tempt
}
features-replies = { $number ->
    [one] { $number } replies per move
   *[other] { $number } replies per move
}

## Sheets

exercise-title = Exercise { $number }
level-and-points = { $points ->
    [one] Level { $level }, { $points } point
   *[other] Level { $level }, { $points } points
}
solution-link = Solution{ $unseen } to exercise { $number }{ $unseen_end }
back-to-exercise = { $number }{ $unseen }, back to the exercise{ $unseen_end }
name = Name
date = Date
points-of = Points, of { $points }
exercises = Exercises
solutions = Solutions
solutions-counted = { $number ->
    [one] { $number } solution
   *[other] { $number } solutions
}
solution-source = { $from }. { $motif }. Level { $level }: { $features }.
how-these-score = How these offers score in the games searched
game-of-file = game { $number } of { $file }
motif-scored = { $offers ->
    [one] { $offers } offer in { $games }; the attacker scored { $score } % (95 % interval { $lower } to { $upper }).
   *[other] { $offers } offers in { $games }; the attacker scored { $score } % (95 % interval { $lower } to { $upper }).
}
motif-ended = { $offers ->
    [one] { $offers } offer in { $games }; the attacker won { $won }, drew { $drawn } and lost { $lost }.
   *[other] { $offers } offers in { $games }; the attacker won { $won }, drew { $drawn } and lost { $lost }.
}
rests-on-proofs = Mates are proved against every defence. No engine was asked: other solutions win three pawns or more and leave the attacker ahead, in a count of material.
rests-on-engine = { $positions ->
    [one] Mates are proved against every defence; whatever else is shown was put to { $engine }, which agrees ({ $positions } position for each answer).
   *[other] Mates are proved against every defence; whatever else is shown was put to { $engine }, which agrees ({ $positions } positions for each answer).
}
rests-on-rules = Mates are proved against every defence; that there is none in so many moves was proved by trying everything, and all else follows from the rules of chess.
rests-on-both = { $rests_on } No count or engine has a say where the question is: { $kinds }.

# In files for other programs.
asked-in-pgn = Exercise { $number }, { $kind }: { $question } Level { $level } ({ $points }).
asked-in-epd = { $kind }: { $question } Level { $level } ({ $points }).
also-correct-since = Also correct: { $says }.
from-in-pgn = { $motif }: { $statistics } Level { $level }: { $features }. From game { $number } of { $file }. { $caution }
from-in-csv = From { $reference }

## Projector

slide-of = { $mark }{ $number }{ $mark_end } of { $count }
back = Back
next = Next
answer = Answer
clock = Clock
back-a-move = Back a move
on-a-move = On a move
keys-back = Left arrow, Page Up
keys-answer = Space, Enter
keys-next = Right arrow, Page Down
keys-clock = C
projector-keys = Keys: ← and → (or Page Up and Page Down) for the exercise before and the next, C for the clock.
projector-keys-with-answers = Keys: ← and → (or Page Up and Page Down) for the exercise before and the next, Space or Enter for the answer, ↓ and ↑ for its moves, C for the clock.

## Lessons

course-nav = Course
all-lessons = All lessons
previous-lesson = Previous: { $title }
next-lesson = Next: { $title }
part-motif = The motif
part-numbers = How often, how well
part-numbers-title = How often, and how well
part-rules = Rules of thumb
part-rules-title = Rules of thumb, measured
part-tree = What was played
part-games = Model games
part-exercises = Exercises
part-exercises-title = What would you play?

# The motif, as its query says it.
query-offer = The query, from the attacker’s side: { $offer }
query-when = , when: { $fact }
query-after = , and just after it: { $fact }
query-then = , then: { $sequel }
query-more = ; { $fact }
query-or = { " or: " }
query-and-later = { ", and later " }
query-never = never { $sequel }
key-diagram = The squares of the offer
key-one-ring = The line is the offer; the ring marks its square.
key-rings = The line is the offer; the rings mark its square and those that the rules of thumb and the follow-ups are about.

# How often, and how well.
motif-is-rare = { $strong }This motif is rare in these tables.{ $strong_end } { $number ->
    [one] They hold { $number } game in which something was given up.
   *[other] They hold { $number } games in which something was given up.
} That shows how it can go, not how it usually goes; a larger collection would show more.
made-times = In { $games } the move was made { $number ->
    [one] { $number } time.
   *[other] { $number } times.
}
made-times-often = In { $games } the move was made { $number ->
    [one] { $number } time
   *[other] { $number } times
}, which is { $often ->
    [one] { $often } time
   *[other] { $often } times
} in { 10000 } games.
given-up-always = Something was given up each time.
given-up-some = { $number } of these gave something up; only those are counted from here on.
accepted-always = The defender always accepted.
accepted-some = The defender accepted { $accepted } of { $answered } offers.
attacker-scored = The attacker won { $won }, drew { $drawn } and lost { $lost }, a score of { $strong }{ $score } %{ $strong_end }. With this number of offers, the true figure may be anywhere from { $lower } to { $upper } %.
same-colours-scored = In all games of the collection the same colours scored { $score } %.
same-colours-scored-expected = In all games of the collection the same colours scored { $score } %; by their ratings the attackers should have scored { $expected } % ({ $rated ->
    [one] { $rated } offer in a rated game
   *[other] { $rated } offers in rated games
}).
attacker-mated = The attacker mated after { $share } % of the offers.
half-were-over = Half of the offers were made within { $moves } moves of the end of the game.
no-results = None of these games has a result.
too-few-to-score = The attacker won { $won }, drew { $drawn } and lost { $lost }. Fewer than { $least } results say nothing about how well it scores.

# By kind of sacrifice: `As the games went, 3 of these offers were sham sacrifices (...); and 1 was declined.`
kinds-told = As the games went, { $parts }.
kinds-alone = { $kind ->
    [sham] As the games went, every offer was a sham sacrifice (accepted, and within four moves the attacker mated, won or made the material good).
    [real] As the games went, every offer was a real sacrifice (accepted, and after four moves the attacker was still down).
    [desperado] As the games went, every offer was a desperado (what was given up was lost anyway).
   *[declined] As the games went, every offer was declined.
}
kinds-alone-one = { $kind ->
    [sham] As the games went, the only offer was a sham sacrifice (accepted, and within four moves the attacker mated, won or made the material good).
    [real] As the games went, the only offer was a real sacrifice (accepted, and after four moves the attacker was still down).
    [desperado] As the games went, the only offer was a desperado (what was given up was lost anyway).
   *[declined] As the games went, the only offer was declined.
}
kinds-number-of-these = { $number } of these offers
kinds-part = { $kind ->
    [sham] { $games ->
        [one] { $number } was a sham sacrifice (accepted, and within four moves the attacker mated, won or made the material good)
       *[other] { $number } were sham sacrifices (accepted, and within four moves the attacker mated, won or made the material good)
    }
    [real] { $games ->
        [one] { $number } was a real sacrifice (accepted, and after four moves the attacker was still down)
       *[other] { $number } were real sacrifices (accepted, and after four moves the attacker was still down)
    }
    [desperado] { $games ->
        [one] { $number } was a desperado (what was given up was lost anyway)
       *[other] { $number } were desperados (what was given up was lost anyway)
    }
   *[declined] { $games ->
        [one] { $number } was declined
       *[other] { $number } were declined
    }
}
kinds-part-scored = { $part } and scored { $score } %
kinds-part-last = and { $part }
free-moves = { $number ->
    [1] One more move was free: it gave nothing up.
   *[other] Another { $number } moves were free: they gave nothing up.
}
free-moves-scored = { $number ->
    [1] One more move was free: it gave nothing up, and scored { $score } %.
   *[other] Another { $number } moves were free: they gave nothing up, and scored { $score } %.
}

# What the offers are worth: `Of these offers 3 are sound, 2 hold the balance and 1 is open.`
worth-of-these = Of these offers { $parts }.
worth-yes = { $number ->
    [one] { $number } is sound
   *[other] { $number } are sound
}
worth-holds = { $number ->
    [one] { $number } holds the balance
   *[other] { $number } hold the balance
}
worth-no = { $number ->
    [one] { $number } is not sound
   *[other] { $number } are not sound
}
worth-last-try = { $number ->
    [one] { $number } is a last try in a lost position
   *[other] { $number } are last tries in a lost position
}
worth-open = { $number ->
    [one] { $number } is open
   *[other] { $number } are open
}
verdicts-of-these = Of these verdicts { $parts }.
verdicts-proved = { $number ->
    [one] { $number } is proved
   *[other] { $number } are proved
}
verdicts-judged = { $number ->
    [one] { $number } is judged by an engine
   *[other] { $number } are judged by an engine
}
verdicts-from-game = { $number ->
    [one] { $number } is from evaluations in the game’s comments
   *[other] { $number } are from evaluations in the game’s comments
}
verdicts-counted = { $number ->
    [one] { $number } is counted in material
   *[other] { $number } are counted in material
}
sound-ones-scored = In practice the sound ones scored { $sound } %, those that are not { $unsound } %.

# Plots.
plot-by-rating = The attacker’s score in per cent, by rating
plot-by-rating-below = mean rating, in bands of 200
plot-by-rating-caption = The attacker’s score by rating, in per cent. Lines are 95 % intervals; bands with fewer than { $least } results are left out.
plot-by-year = Offers per { 10000 } games, by year
plot-by-year-below = year
plot-by-year-caption = How often the move was made per { 10000 } games, by year; years with fewer than 100 games are left out.
plot-gain = Gain, and its interval
plot-value = { $name }: { $value }
plot-value-from-to = { $name }: { $value } ({ $lower } to { $upper })
plot-gain-from-to = { $value }, { $lower } to { $upper }.

# Rules of thumb.
rules-measured = Each rule is a fact about the position just before the offer. The table gives the attacker’s score in per cent when the rule holds and when it does not. Dots show the gain, lines its 95 % interval.
rules-unmeasured = There are too few games to measure these: each rule would need { $least } games with it and { $least } without. So take them as things to look for, not as findings.
rules-head = Before the offer
rules-with = With it
rules-without = Without
rules-gain = Gain
rule-too-few = too few games
rule-always = always true here
rule-never = never true here
rule-after-offer = after the offer: { $fact }
rule-hardly-chance = hardly chance
rule-balance = the balance explains it
rule-may-be-chance = may be chance
rule-games = { $with ->
    [one] ({ $with } game with it, { $without } without)
   *[other] ({ $with } games with it, { $without } without)
}
rules-note = The plots run from −{ $widest } on the left to +{ $widest } on the right. { $em }Hardly chance{ $em_end }: chance alone would produce such a gain less than one time in twenty, the number of these rules taken into account. { $em }The balance explains it{ $em_end }: among offers made with like material before, half of that gain or less is left, and that may be chance. A rule that goes with good scores need not be their cause.
rules-note-in-course = The plots run from −{ $widest } on the left to +{ $widest } on the right. { $em }Hardly chance{ $em_end }: chance alone would produce such a gain less than one time in twenty, the number of rules of all lessons of this course taken into account. { $em }The balance explains it{ $em_end }: among offers made with like material before, half of that gain or less is left, and that may be chance. A rule that goes with good scores need not be their cause.

# What was played.
tree-says = { $turned ->
    [as-written] The moves from the offer on, the most frequent first, shown as if White attacked.
    [mirrored] The moves from the offer on, the most frequent first, shown as if White attacked on the kingside.
   *[shifted] The moves from the offer on, the most frequent first, shown as if White attacked, and mirrored where the motif is.
} Next to each move: the number of games in which it was played, and the attacker’s score in per cent.
tree-move = move
tree-games = games
tree-score = score
tree-others = others
tree-games-of = { $number ->
    [one] { $number }{ $heard } game,{ $heard_end }
   *[other] { $number }{ $heard } games,{ $heard_end }
}
tree-score-of = { $heard }score { $heard_end }{ $score }
tree-note = No score is given for fewer than { $least } games with a result.

# Model games.
games-say = First sham sacrifices that won, whose price came back soon, then real ones, then offers that were declined, and last games that were not won; all are seen from the attacker’s side of the board.
games-step = Step through them with the buttons, by swiping across the board, or with the keys ← → Home End once a board has the focus; ↑ goes back to the offer.
games-chosen = How they were chosen: so that each adds something, a reply, a colour, a level or a kind. Accepted offers come before declined ones, mates and short games before long ones, and games in which the moves agree with the result before others. Among equals, the game whose weaker player is rated higher.
games-chosen-judged = How they were chosen: so that each adds something, a reply, a colour, a level or a kind. Accepted offers come before declined ones, mates and short games before long ones, and games in which the result agrees with what is known of the offer or, where nothing is known, the moves agree with the result before others. Among equals, the game whose weaker player is rated higher.
before-the-offer = Before the offer
step-first = First
step-offer = Offer
step-opened = Opening board
step-last = Last
offers-for = { $pawns ->
    [1] { FORM($side) } offers { FORM($man, as: "given") } for { FORM($taken, as: "given") } (a pawn’s worth).
   *[other] { FORM($side) } offers { FORM($man, as: "given") } for { FORM($taken, as: "given") } ({ $pawns } pawns’ worth).
}
offers = { $pawns ->
    [1] { FORM($side) } offers { FORM($man, as: "given") } (a pawn’s worth).
   *[other] { FORM($side) } offers { FORM($man, as: "given") } ({ $pawns } pawns’ worth).
}
offers-worth = { $pawns ->
    [1] { FORM($side) } offers a pawn’s worth.
   *[other] { FORM($side) } offers { $pawns } pawns’ worth.
}
never-more-down = { $pawns ->
    [1] Compared with before the offer, { FORM($side) } is never more than a pawn’s worth down.
   *[other] Compared with before the offer, { FORM($side) } is never more than { $pawns } pawns’ worth down.
}
at-the-offer = At the offer: { $facts }.
source-game = Game { $number } of { $file }.

# What an offer comes to. `offer-is` and the like are the rest of `The offer ...` in English; a language in which that is
# no whole clause says the clause.
with-best-play = With best play the offer { $does }.
with-best-play-line = With best play the offer { $does }: { $line }
in-plan-it = ; it { $does }
offer-sound = is sound
offer-holds = holds
offer-not-sound = is not sound
offer-last-try = is a last try in a lost position
offer-open = is open
offer-judged = { $does }, as an engine judges
offer-judged-points = { $does }, as an engine judges ({ $after } of a hundred points)
offer-judged-points-best = { $does }, as an engine judges ({ $after } of a hundred points, and { $best } with the best other move)
offer-from-game = { $does } by the evaluations in the game’s comments
offer-from-game-points = { $does } by the evaluations in the game’s comments ({ $after } of a hundred points)
offer-from-game-points-best = { $does } by the evaluations in the game’s comments ({ $after } of a hundred points, and { $best } with the best other move)
offer-mates = mates in { $moves }
offer-is-mated = lets the other side mate in { $moves }
offer-is-mated-like-all = { offer-is-mated }, as does every other move
offer-draws = draws by force
offer-gains = { $pawns ->
    [one] gains { $pawns } pawn, counted { $depth } plies deep
   *[other] gains { $pawns } pawns, counted { $depth } plies deep
}
offer-is-down = { $pawns ->
    [one] loses { $pawns } pawn, counted { $depth } plies deep
   *[other] loses { $pawns } pawns, counted { $depth } plies deep
}
offer-level = neither gains nor loses material, counted { $depth } plies deep

# Why a game is shown.
why-offer-mates = The offer mates.
why-mate = { $answer ->
    [king] The king takes and goes to { $square }; mate follows { $moves ->
        [1] in one move.
       *[other] in { WORD($moves) } moves.
    }
    [accepted] The offer is accepted; mate follows { $moves ->
        [1] in one move.
       *[other] in { WORD($moves) } moves.
    }
   *[declined] The offer is declined; mate follows { $moves ->
        [1] in one move.
       *[other] in { WORD($moves) } moves.
    }
}
why-made-good = { $answer ->
    [king] The king takes and goes to { $square }; the material is made good { $moves ->
        [1] in one move.
       *[other] in { WORD($moves) } moves.
    }
    [accepted] The offer is accepted; the material is made good { $moves ->
        [1] in one move.
       *[other] in { WORD($moves) } moves.
    }
   *[declined] The offer is declined; the material is made good { $moves ->
        [1] in one move.
       *[other] in { WORD($moves) } moves.
    }
}
why-won-soon = { $answer ->
    [king] The king takes and goes to { $square }; the game is won { $moves ->
        [1] in one move.
       *[other] in { WORD($moves) } moves.
    }
    [accepted] The offer is accepted; the game is won { $moves ->
        [1] in one move.
       *[other] in { WORD($moves) } moves.
    }
   *[declined] The offer is declined; the game is won { $moves ->
        [1] in one move.
       *[other] in { WORD($moves) } moves.
    }
}
why-real = { $answer ->
    [king] The king takes and goes to { $square }; still down after four moves, the attacker wins all the same.
    [accepted] The offer is accepted; still down after four moves, the attacker wins all the same.
   *[declined] The offer is declined; still down after four moves, the attacker wins all the same.
}
why-won = { $answer ->
    [king] The king takes and goes to { $square }, and the attacker wins.
    [accepted] The offer is accepted, and the attacker wins.
   *[declined] The offer is declined, and the attacker wins.
}
why-not-sound = { $drawn ->
    [yes] A failure to compare: the offer is not sound, and the game is drawn.
   *[no] A failure to compare: the offer is not sound, and the attacker loses.
}
why-holds = { $drawn ->
    [yes] The offer is worth a draw, and the game is drawn.
   *[no] The offer is worth a draw, and the attacker loses.
}
why-to-compare = { $drawn ->
    [yes] A game to compare: the game is drawn.
   *[no] A game to compare: the attacker loses.
}

# Words for glyphs that have no sign in print (section 10 of the PGN standard).
glyph-7 = forced
glyph-8 = the only move
glyph-9 = the worst move
glyph-12 = with play
glyph-20 = hopeless for Black
glyph-21 = hopeless for White
glyph-22 = zugzwang
glyph-32 = White is ahead in development
glyph-33 = Black is ahead in development
glyph-36 = White has the initiative
glyph-37 = Black has the initiative
glyph-40 = White attacks
glyph-41 = Black attacks
glyph-44 = White has compensation
glyph-45 = Black has compensation
glyph-132 = White has counterplay
glyph-133 = Black has counterplay
glyph-136 = White is short of time
glyph-137 = Black is short of time
glyph-138 = White is in time trouble
glyph-139 = Black is in time trouble

# The exercises of a lesson, and its end.
lesson-asks = Find what the side at the bottom can give up to come out ahead or, where something was given up already, how to go on. Where a move is drawn as a line, say whether it works. { $rests_on }
lesson-asks-nothing = No offer in these tables makes an exercise: none was found to fail, or to work with nothing else as good.
solution-to = Solution to { $number }
made-from-tables = { $games ->
    [one] Made by hecatomb { $version } from its tables of { $games } game. Intervals are 95 % intervals.
   *[other] Made by hecatomb { $version } from its tables of { $games } games. Intervals are 95 % intervals.
}
footer-judged = Mates and perpetual checks are proved against every defence; material is counted to the stated depth. Where an engine or a game’s own comments judge an offer, it is said, and proves nothing.
footer-unjudged = This page shows how games went, not what was best.

## Courses

course-title = Sacrifices: a course
course-says = { $lessons } drawn from { $games }: for each motif, how often it occurs, how well it scores, games to play through, and exercises.
chapter-bishop = The bishop
chapter-knight = The knight
chapter-rook = The rook
chapter-queen = The queen
chapter-pawn = The pawn
chapter-any = Any man
lesson-listed = { $games }
lesson-listed-scored = { $games }, the attacker scored { $score } %
sheets = Sheets
sheet-for-pupils = for pupils
sheet-for-teachers = for teachers
sheet-for-both = with solutions
sheet-for-projector = for a projector
other-pages = Other pages in this folder

## First plans

plan-keep = The plan of a course. Keep, move, delete and add what you like, and say what you want to say;
plan-then = then `hecatomb course DIR --plan FILE` makes the course. `hecatomb help plans` tells more.
plan-motif = { $offers ->
    [one] { $title }: { $offers } offer in { $games }
   *[other] { $title }: { $offers } offers in { $games }
}
plan-motif-scored = { $offers ->
    [one] { $title }: { $offers } offer in { $games }; the attacker scored { $score } %
   *[other] { $title }: { $offers } offers in { $games }; the attacker scored { $score } %
}
plan-exercise = { $question } Level { $level }. { $reference }
plan-weaker = The weaker player: { $rating }.

## Motifs, by the name of the query

motif-attacked-rook-takes-minor = Attacked rook takes a bishop or knight
motif-b-pawn-gambit = The b-pawn offered on the wing
motif-bishop-hits-minor = Bishop offered with an attack on a bishop or knight
motif-bishop-hits-queen = Bishop offered with an attack on the queen
motif-bishop-hits-rook = Bishop offered with an attack on a rook
motif-bishop-sacrifice = A bishop is given up
motif-bishop-takes-b5 = Bishop takes b5 and the knight follows
motif-bishop-takes-e6 = Bishop takes e6, which the f-pawn alone holds
motif-bishop-takes-f7 = Bishop takes f7 and pulls the king out
motif-bishop-takes-g6 = Bishop takes g6 and the queen follows
motif-bishop-takes-g7 = Bishop takes g7 and bares the king
motif-bishop-takes-h6-perpetual = Bishop takes h6 for perpetual check
motif-bishop-takes-h6 = Bishop takes h6 and the queen follows
motif-bishop-takes-h7-pawn-check = Bishop takes the rook's pawn, the h-pawn hunts the king
motif-bishop-takes-h7-pawn-to-g6 = Bishop takes the rook's pawn, a pawn drives in
motif-bishop-takes-h7-quiet-offer = Bishop that took the rook's pawn is offered beside the king
motif-bishop-takes-h7-rook-lift = Bishop takes the rook's pawn, the rook swings over
motif-bishop-takes-h7 = Bishop takes the rook's pawn
motif-bishop-to-h6 = Bishop offered on h6, in front of the king's pawns
motif-c-pawn-gambit = The c-pawn offered for the d-pawn
motif-c-pawn-offered-to-d5 = The c-pawn offered to the pawn on d5
motif-double-bishop = Both bishops given for the king's pawns
motif-exchange-in-ending = Exchange sacrifice in the ending
motif-exchange-in-middlegame = Exchange given in the middlegame
motif-exchange-offered-quietly = Rook put where a bishop or knight can take it
motif-exchange-sacrifice = The exchange is given up
motif-f-pawn-gambit = The f-pawn offered for the e-pawn
motif-g-pawn-ram = The g-pawn as a battering ram
motif-h-pawn-ram = The h-pawn as a battering ram
motif-hanging-heavy-takes = Hanging rook or queen takes first
motif-hanging-minor-takes = Hanging bishop or knight takes first
motif-in-between-capture = Capture in between, with a piece to be taken
motif-in-between-check = Check in between, and a piece can be taken
motif-king-hunt = King hunt
motif-knight-f6-rook-edge = Knight on f6, rook on the edge
motif-knight-follow-up = Bishop takes the rook's pawn, the knight follows
motif-knight-hits-minor = Knight offered with an attack on a bishop or knight
motif-knight-hits-queen = Knight offered with an attack on the queen
motif-knight-hits-rook = Knight offered with an attack on a rook
motif-knight-sacrifice = A knight is given up
motif-knight-takes-d5 = Knight takes d5 for two pawns and the centre
motif-knight-takes-e5-fork = Knight takes e5 and the d-pawn forks
motif-knight-takes-e6 = Knight takes e6, which the f-pawn alone holds
motif-knight-takes-f7 = Knight takes f7 beside the king
motif-knight-takes-g6 = Knight takes g6 in front of the king
motif-knight-takes-g7 = Knight takes g7 beside the king
motif-knight-takes-h6 = Knight takes h6 in front of the king
motif-knight-to-d5 = Knight to d5, offered to the e-pawn
motif-knight-to-e6 = Knight to e6, where a pawn takes back and stands as a wedge
motif-knight-to-f5 = Knight to f5, offered to a pawn
motif-knight-to-f6 = Knight to f6, offered to the g-pawn
motif-knight-to-g5 = Knight check on g5, offered to a pawn
motif-knight-to-g6 = Knight check on g6 that opens the edge file
motif-knight-to-h6 = Knight check on h6, offered to the g-pawn
motif-minor-for-pawns = Bishop or knight given for pawns
motif-minor-left-hits-heavy = Bishop or knight left, and a rook or the queen is attacked
motif-minor-left-hits-minor = Bishop or knight left, and another is attacked
motif-minor-offered-to-pawn = Bishop or knight offered to a pawn
motif-minor-piece-takes-f5 = Knight or bishop takes f5 and tears open the pawn front
motif-minor-piece-takes-g5 = Knight or bishop takes g5 and breaks open the pawns
motif-minor-piece-takes-h5 = Knight or bishop takes h5 and strips the king
motif-minor-takes-pawn-beside-king = Bishop or knight takes a pawn beside the king
motif-passed-pawn-let-through = Piece given to let a passed pawn through
motif-passed-pawn-offered = Passed pawn offered by a pawn move
motif-pawn-break-in-centre = Pawn break in the centre, on e4 or d4
motif-pawn-break-in-ending = Pawn break in the ending
motif-pawn-break-on-kingside = Pawn break on the kingside, on f4 or g4
motif-pawn-break-on-queenside = Pawn break on the queenside, on b4, b5 or c5
motif-pawn-breakthrough = Breakthrough: one pawn is given, another one runs
motif-pawn-check-offered = Pawn offered with check
motif-pawn-f6-net = Pawn on f6, the queen comes to g7
motif-pawn-for-pawn-in-ending = Pawn for pawn in the ending: one is left, one is attacked
motif-pawn-for-pawn-in-middlegame = Pawn for pawn in the middlegame: one is left, one is attacked
motif-pawn-hits-minor = Pawn offered with an attack on a bishop or knight
motif-pawn-hits-queen = Pawn offered with an attack on the queen
motif-pawn-hits-rook = Pawn offered with an attack on a rook
motif-pawn-left-hits-minor = Pawn left, and a bishop or knight is attacked
motif-pawn-left-hits-queen = Pawn left, and the queen is attacked
motif-pawn-left-hits-rook = Pawn left, and a rook is attacked
motif-pawn-offered-in-centre = Pawn offered in the centre in the middlegame
motif-pawn-offered-in-ending = Pawn offered in the ending
motif-pawn-offered-on-queenside = Pawn offered on the queenside in the middlegame
motif-pawn-offered-on-sixth = Pawn pushed to the sixth rank and offered
motif-pawn-promotion-offered = Pawn promotes and is taken, and the next move strikes
motif-pawn-push-hits-pawn = Pawn offered in the middlegame, and a pawn is attacked
motif-pawn-sacrifice = A pawn is given up
motif-pawn-storm-offer = Pawn thrown at the castled king
motif-pawn-to-d5 = Pawn thrust to d5
motif-pawn-to-d6 = Pawn thrust to d6, which frees d5 or shuts the defender in
motif-pawn-to-e5 = Pawn thrust to e5
motif-pawn-to-e6 = Pawn thrust to e6
motif-pawn-to-f5 = Pawn break on f5 against the castled king
motif-pawn-to-f6 = Pawn thrust to f6 against the king
motif-perpetual-check = Piece given for perpetual check
motif-piece-against-passed-pawn = Piece given for the other side's passed pawn
motif-queen-back-rank = Queen offered on the back rank
motif-queen-decoy-double-check = Queen draws the king into a double check
motif-queen-deflection-back-rank = Queen on the back rank pulls the guard off the d-file
motif-queen-for-fork = Queen for a fork
motif-queen-for-rook = Queen given for a rook
motif-queen-hits-queen = Queen offered with an attack on the queen
motif-queen-left-hits-queen = Queen left, and the queen is attacked
motif-queen-left-to-bishop = Knight takes e5 and leaves the queen to the bishop
motif-queen-lift = Bishop takes the rook's pawn, the queen goes to the edge
motif-queen-sacrifice = The queen is given up
motif-queen-takes-c6-crossed-bishops = Queen takes c6, two bishops mate on crossed diagonals
motif-queen-takes-f6 = Queen takes f6, rook on the g-file, bishop on the long diagonal
motif-queen-takes-g8 = Queen takes the rook beside the king
motif-queen-takes-h6 = Queen takes h6 and pulls the g-pawn away
motif-queen-takes-h7-knight-e7 = Queen takes h7, knight on e7, rook on the edge
motif-queen-takes-h7 = Queen takes h7 and draws the king out
motif-queen-to-corner = Queen draws the king into the corner
motif-rook-beside-king = Rook given with check beside the king
motif-rook-decoy-corner = Rook draws the king into the corner
motif-rook-deflection-back-rank = Rook on the back rank pulls a guard away
motif-rook-for-fork = Rook for a fork
motif-rook-hits-minor = Rook offered with an attack on a bishop or knight
motif-rook-hits-queen = Rook offered with an attack on the queen
motif-rook-hits-rook = Rook offered with an attack on a rook
motif-rook-left-hits-heavy = Rook left, and a rook or the queen is attacked
motif-rook-sacrifice = A rook is given up
motif-rook-takes-bishop-e7 = Exchange sacrifice for the bishop on e7 or d6
motif-rook-takes-bishop-g7 = Exchange sacrifice for the bishop on g7 or f6
motif-rook-takes-e6 = Rook takes e6 against the king in the centre
motif-rook-takes-f7 = Rook takes f7 beside the king
motif-rook-takes-f8 = Rook takes the king's last guard on f8
motif-rook-takes-g6 = Rook takes g6 in front of the king
motif-rook-takes-g7-perpetual = Rook takes g7 for perpetual check
motif-rook-takes-g7 = Rook takes g7 beside the king
motif-rook-takes-guard-of-h7 = Rook takes the knight that guards h7
motif-rook-takes-guarded-pawn = Exchange given for a pawn
motif-rook-takes-h6 = Rook takes h6 and pulls the g-pawn away
motif-rook-takes-h7 = Rook takes h7 and draws the king out
motif-rook-takes-knight-c6 = Exchange sacrifice on c6
motif-rook-takes-knight-d3 = Exchange sacrifice for a knight on the third rank
motif-rook-takes-knight-f6 = Exchange sacrifice on f6
motif-rook-takes-minor-d4 = Exchange sacrifice in the centre, on c4, d4, e4 or f4
motif-rook-takes-minor-d5 = Exchange sacrifice on d5
motif-rook-takes-minor-d7 = Exchange sacrifice on d7 or c7
motif-rook-takes-minor-e5 = Exchange sacrifice on e5 or c5
motif-rook-takes-minor-e6 = Exchange sacrifice on e6
motif-rook-takes-minor-f5 = Exchange sacrifice on f5
motif-rook-takes-minor-g5 = Exchange sacrifice beside the castled king, on g6, g5, g4 or h5
motif-rook-takes-pawn-beside-king = Rook takes a pawn beside the king, with check
motif-rook-to-f6 = Rook to e6 or f6, offered to a pawn
motif-smothered-mate = Queen offered for the smothered mate
motif-stalemate-rescue = Rescue by stalemate
motif-windmill = Windmill
