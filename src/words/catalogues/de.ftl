# Die Wörter der Seiten und Blätter auf Deutsch.
#
# THIS TRANSLATION WANTS A NATIVE READER: no chess trainer whose language it is has read it yet.
#
# Anrede: du, wie in der Klasse. Das Opfer heißt „Opfer“ vom Angebot bis zur Annahme; „aufgehen“ ist, was ein Opfer tut, das
# richtig ist.

## Words that are filled in

white = Weiß
black = Schwarz
king = König
    .several = Könige
queen = Dame
    .several = Damen
    .given = die Dame
rook = Turm
    .several = Türme
    .given = einen Turm
bishop = Läufer
    .several = Läufer
    .given = einen Läufer
knight = Springer
    .several = Springer
    .given = einen Springer
pawn = Bauer
    .several = Bauern
    .given = einen Bauern
number-0 = null
number-1 = einem
number-2 = zwei
number-3 = drei
number-4 = vier
number-5 = fünf
number-6 = sechs
number-7 = sieben
number-8 = acht
number-9 = neun
number-10 = zehn
number-11 = elf
number-12 = zwölf

## Numbers of things

list = { $first } und { $last }
semicolon = { "; " }
games-counted = { $number ->
    [one] { $number } Partie
   *[other] { $number } Partien
}
lessons-counted = { $number ->
    [one] { $number } Lektion
   *[other] { $number } Lektionen
}
exercises-counted = { $number ->
    [one] { $number } Aufgabe
   *[other] { $number } Aufgaben
}
points-counted = { $number ->
    [one] { $number } Punkt
   *[other] { $number } Punkte
}

## Kinds of sacrifice as the tables call them

kind-free = ohne Preis
kind-desperado = Desperado
kind-sham = Scheinopfer
kind-real = echtes Opfer
kind-declined = abgelehnt

## All pages

skip-to-content = Zum Inhalt
on-this-page = Auf dieser Seite
made-by = Erstellt mit hecatomb { $version }.
read-as-they-are = Die Tabellen wurden gelesen, wie sie sind (--edited): Ob jemand sie verändert hat, wurde nicht geprüft.
only-these-kinds = Nur Opfer dieser Art sind gezählt: { $kinds }.
only-these-kinds-by-force = Nur Opfer, die erzwungen von dieser Art sind, sind gezählt: { $kinds }.

## Diagrams, for people who hear them

diagram = Schachdiagramm
diagram-men = { $count ->
    [one] { FORM($man) } { $squares }
   *[other] { FORM($man, as: "several") } { $squares }
}
diagram-no-men = keine Steine
diagram-side = { FORM($side) }: { $men }
to-move = { FORM($side) } am Zug
diagram-ringed = Eingekreist: { $squares }.
diagram-line = Eine Linie von { $from } nach { $to }.

## Boards to step through

board-keys = Brett; die Pfeiltasten gehen durch die Züge
board-plain = Brett
board-at-move = { $move } ({ $at } von { $last })
board-at-start = Beginn der Partie
game-after-move = Partie { $number }, nach { $move }
game-at-start = Partie { $number }, zu Beginn
game-before-offer = Partie { $number }, vor dem Opfer
game-as-it-opens = Partie { $number }, Anfangsstellung

## What an exercise asks

exercises-mixed = Aufgaben zu Opfern
exercise-find = Finde das Opfer
    .word = Opfer finden
    .asks = Die Seite am Zug kann etwas opfern und kommt dabei in Vorteil. Finde das Opfer und sage, wie es weitergeht, wenn es angenommen und wenn es abgelehnt wird.
exercise-judge = Geht es auf?
    .word = Opfer beurteilen
    .asks = Die Linie in jedem Diagramm ist ein Opfer. Geht es auf? Begründe es: mit den Zügen, durch die es aufgeht, oder mit der Antwort, an der es scheitert. Etwa die Hälfte scheitert.
    .caution = Hier geht ein Opfer auf, wenn es seine Seite besser stehen lässt und kein anderer Zug ihr deutlich mehr lässt; es geht nicht auf, wenn es ins Matt läuft oder wegwirft, was ein anderer Zug behält.
exercise-continue = Angenommen: was nun?
    .word = fortsetzen
    .asks = Das Opfer wurde angenommen. Finde den Zug, der es rechtfertigt, und was folgt.
exercise-defend = Die beste Verteidigung
    .word = verteidigen
    .asks = Etwas wird geopfert oder wurde eben genommen. Eine Antwort ist klar besser als alle anderen. Finde sie: Soll das Opfer angenommen werden, und womit? Wohin geht der König? Sage, was an den anderen Antworten falsch ist.
exercise-mate = Matt in einem oder zwei Zügen
    .word = Matt
    .asks = Der Angriff ist fast am Ziel. Finde das Matt in der angegebenen Zahl von Zügen, gegen jede Verteidigung.
exercise-reply = Die einzige Antwort
    .word = Antwort
    .asks = Die Linie ist ein Opfer, das eben gebracht wurde. Alle Antworten außer einer laufen ins Matt, in der angegebenen Zahl von Zügen oder schneller. Finde diese eine und sage, wie die anderen matt gesetzt werden.
exercise-king = Wohin der König nicht darf
    .word = König
    .asks = Das Opfer wurde angenommen, und der Angriff geht weiter. Welche Königszüge laufen ins Matt, in der angegebenen Zahl von Zügen oder schneller? Nenne sie alle und dazu die Matts.
exercise-check = Ist es matt?
    .word = Schach
    .asks = Die Linie in jedem Diagramm ist ein Schach. Ist es matt? Wenn nicht, nenne einen Ausweg. Etwa die Hälfte ist matt.
exercise-count = Zähle die Steine
    .word = zählen
    .asks = Wie viele Steine greifen das eingekreiste Feld an, und wie viele decken es? Der König zählt, ein gefesselter Stein ebenso. Ein Stein hinter einem anderen auf derselben Linie zählt nicht.

question-find = { FORM($side) } am Zug
    .among-others = { FORM($side) } am Zug: Finde das Opfer
question-judge = Geht { $move } für { FORM($side) } auf?
question-continue = Nach { $moves }: { FORM($side) } am Zug
    .among-others = Nach { $moves }: { FORM($side) } am Zug. Was nun?
question-defend = Nach { $moves }: { FORM($side) } am Zug
    .among-others = Nach { $moves }: { FORM($side) } am Zug. Finde die beste Verteidigung
question-mate = { $number ->
    [1] { FORM($side) } am Zug, Matt in einem Zug
   *[other] { FORM($side) } am Zug, Matt in { WORD($number) } Zügen
}
question-reply = { $number ->
    [1] Nach { $moves }: Welche Antwort verhindert das Matt in einem Zug?
   *[other] Nach { $moves }: Welche Antwort verhindert das Matt in { WORD($number) } Zügen?
}
question-king = { $number ->
    [1] Nach { $moves }: Welche Königszüge laufen in ein Matt in einem Zug?
   *[other] Nach { $moves }: Welche Königszüge laufen in ein Matt in höchstens { WORD($number) } Zügen?
}
question-check = Setzt { FORM($side) } mit { $move } matt?
question-count = Wie viele Steine von { FORM($attacker) } greifen { $square } an, und wie viele von { FORM($defender) } decken das Feld?

## Solutions

answer-works = Es geht auf
answer-fails = Es geht nicht auf
answer-mate = Es ist matt
answer-no-mate = Es ist nicht matt
answer-into-mate = Ins Matt
moves-come-to = { $moves }: { $says }.
also-correct = Ebenfalls richtig:
aside-reply = Oder:
aside-mistake = Ein Fehler:
aside-better = Besser:
aside-into-mate = Und:
aside-not-into-mate = Nicht so:
comes-to-mates = { $moves ->
    [1] { FORM($side) } setzt matt
   *[other] { FORM($side) } setzt in { $moves } Zügen matt
}
comes-to-gains = { $pawns ->
    [1] { FORM($side) } hat am Ende einen Bauern mehr
   *[other] { FORM($side) } hat am Ende Material im Wert von { $pawns } Bauern mehr
}
comes-to-loses = { $pawns ->
    [1] { FORM($side) } hat am Ende einen Bauern weniger
   *[other] { FORM($side) } hat am Ende Material im Wert von { $pawns } Bauern weniger
}
comes-to-level = das Material ist am Ende gleich
comes-to-draw = Remis
comes-to-open = der Kampf geht weiter
comes-to-winning = { FORM($side) } steht auf Gewinn
comes-to-winning-by-points = { FORM($side) } steht auf Gewinn, erwartet werden { $points } von 100 Punkten
comes-to-much-better = { FORM($side) } steht viel besser, erwartet werden { $points } von 100 Punkten
comes-to-better = { FORM($side) } steht besser, erwartet werden { $points } von 100 Punkten
comes-to-about-even = die Chancen sind etwa gleich, erwartet werden { $points } von 100 Punkten für { FORM($side) }
comes-to-even = die Chancen sind gleich
comes-to-no-mate = { $moves ->
    [1] kein Matt in einem Zug
   *[other] kein Matt in { WORD($moves) } Zügen
}
comes-to-no-check = { FORM($side) } kommt aus dem Schach
comes-to-count = { FORM($attacker) } greift { $square } mit { $attackers } an, { FORM($defender) } deckt mit { $guards }
men-counted = { $number ->
    [0] keinem Stein ({ $squares })
    [1] einem Stein ({ $squares })
   *[other] { WORD($number) } Steinen ({ $squares })
}
best-play = Bestes Spiel, soweit es gefunden wurde.
features-reply = { $number ->
    [one] { $number } Antwort zu prüfen
   *[other] { $number } Antworten zu prüfen
}
features-king = { $number ->
    [one] { $number } Zug zu prüfen
   *[other] { $number } Züge zu prüfen
}
features-check = { $number ->
    [one] { $number } Feld neben dem König zu prüfen
   *[other] { $number } Felder neben dem König zu prüfen
}
features-count = zu zählende Steine: { $number }
features-moves = { $number ->
    [one] { $number } Zug
   *[other] { $number } Züge
}
features-quiet = { $number ->
    [0] kein stiller
    [1] ein stiller
   *[other] { $number } stille
}
features-offered = { $number ->
    [one] Einsatz { $number } Bauer
   *[other] Einsatz { $number } Bauern
}
features-tempting = { $number ->
    [0] sonst lockt nichts
    [1] ein anderer Zug kann locken
   *[other] { $number } andere Züge können locken
}
features-replies = { $number ->
    [one] { $number } Antworten je Zug
   *[other] { $number } Antworten je Zug
}

## Sheets

exercise-title = Aufgabe { $number }
level-and-points = { $points ->
    [one] Stufe { $level }, { $points } Punkt
   *[other] Stufe { $level }, { $points } Punkte
}
solution-link = Lösung{ $unseen } zu Aufgabe { $number }{ $unseen_end }
back-to-exercise = { $number }{ $unseen }, zurück zur Aufgabe{ $unseen_end }
name = Name
date = Datum
points-of = Punkte, von { $points }
exercises = Aufgaben
solutions = Lösungen
solutions-counted = { $number ->
    [one] { $number } Lösung
   *[other] { $number } Lösungen
}
solution-source = { $from }. { $motif }. Stufe { $level }: { $features }.
how-these-score = Wie diese Opfer in den durchsuchten Partien abschneiden
game-of-file = Partie { $number } aus { $file }
motif-scored = { $offers ->
    [one] { $offers } Opfer in { $games }; der Angreifer erzielte { $score } % (95-Prozent-Intervall { $lower } bis { $upper }).
   *[other] { $offers } Opfer in { $games }; der Angreifer erzielte { $score } % (95-Prozent-Intervall { $lower } bis { $upper }).
}
motif-ended = { $offers ->
    [one] { $offers } Opfer in { $games }; der Angreifer gewann { $won }, remisierte { $drawn } und verlor { $lost }.
   *[other] { $offers } Opfer in { $games }; der Angreifer gewann { $won }, remisierte { $drawn } und verlor { $lost }.
}
rests-on-proofs = Matts sind gegen jede Verteidigung bewiesen. Keine Engine wurde gefragt: Andere Lösungen gewinnen mindestens drei Bauern und lassen den Angreifer im Vorteil, nach gezähltem Material.
rests-on-engine = { $positions ->
    [one] Matts sind gegen jede Verteidigung bewiesen; alles andere wurde { $engine } vorgelegt und bestätigt ({ $positions } Stellung je Antwort).
   *[other] Matts sind gegen jede Verteidigung bewiesen; alles andere wurde { $engine } vorgelegt und bestätigt ({ $positions } Stellungen je Antwort).
}
rests-on-rules = Matts sind gegen jede Verteidigung bewiesen; dass es in so vielen Zügen keines gibt, wurde durch Ausprobieren aller Züge bewiesen, und alles andere sind die Schachregeln.
rests-on-both = { $rests_on } Weder Zählung noch Engine redet mit, wo die Frage so lautet: { $kinds }.
asked-in-pgn = Aufgabe { $number }, { $kind }: { $question } Stufe { $level } ({ $points }).
asked-in-epd = { $kind }: { $question } Stufe { $level } ({ $points }).
also-correct-since = Ebenfalls richtig: { $says }.
from-in-pgn = { $motif }: { $statistics } Stufe { $level }: { $features }. Aus Partie { $number } aus { $file }. { $caution }
from-in-csv = Aus: { $reference }

## Projector

slide-of = { $mark }{ $number }{ $mark_end } von { $count }
back = Zurück
next = Weiter
answer = Lösung
clock = Uhr
back-a-move = Einen Zug zurück
on-a-move = Einen Zug weiter
keys-back = Pfeil nach links, Bild auf
keys-answer = Leertaste, Eingabe
keys-next = Pfeil nach rechts, Bild ab
keys-clock = C
projector-keys = Tasten: ← und → (oder Bild auf und Bild ab) für die vorige und die nächste Aufgabe, C für die Uhr.
projector-keys-with-answers = Tasten: ← und → (oder Bild auf und Bild ab) für die vorige und die nächste Aufgabe, Leertaste oder Eingabe für die Lösung, ↓ und ↑ für ihre Züge, C für die Uhr.

## Lessons

course-nav = Kurs
all-lessons = Alle Lektionen
previous-lesson = Zurück: { $title }
next-lesson = Weiter: { $title }
part-motif = Das Motiv
part-numbers = Wie oft, wie gut
part-numbers-title = Wie oft und wie gut
part-rules = Faustregeln
part-rules-title = Faustregeln, gemessen
part-tree = Was gespielt wurde
part-games = Musterpartien
part-exercises = Aufgaben
part-exercises-title = Was würdest du spielen?
query-offer = Die Suchanfrage, aus Sicht des Angreifers: { $offer }
query-when = , wenn: { $fact }
query-after = , und gleich danach: { $fact }
query-then = , dann: { $sequel }
query-more = ; { $fact }
query-or = { " oder: " }
query-and-later = { ", und später " }
query-never = nie { $sequel }
key-diagram = Die Felder des Opfers
key-one-ring = Die Linie ist das Opfer, der Kreis markiert sein Feld.
key-rings = Die Linie ist das Opfer; die Kreise markieren sein Feld und jene, um die es in den Faustregeln und Folgezügen geht.
motif-is-rare = { $strong }Dieses Motiv ist in diesen Tabellen selten.{ $strong_end } { $number ->
    [one] Sie enthalten { $number } Partie, in der etwas geopfert wurde.
   *[other] Sie enthalten { $number } Partien, in denen etwas geopfert wurde.
} Das zeigt, wie es gehen kann, nicht, wie es gewöhnlich geht; eine größere Sammlung würde mehr zeigen.
made-times = In { $games } wurde der Zug { $number ->
    [one] { $number }-mal gespielt.
   *[other] { $number }-mal gespielt.
}
made-times-often = In { $games } wurde der Zug { $number ->
    [one] { $number }-mal gespielt
   *[other] { $number }-mal gespielt
}, das ist { $often ->
    [one] { $often }-mal
   *[other] { $often }-mal
} in { 10000 } Partien.
given-up-always = Jedes Mal wurde etwas geopfert.
given-up-some = Bei { $number } davon wurde etwas geopfert; nur diese zählen von hier an.
accepted-always = Der Verteidiger nahm immer an.
accepted-some = Der Verteidiger nahm { $accepted } von { $answered } Opfern an.
attacker-scored = Der Angreifer gewann { $won }, remisierte { $drawn } und verlor { $lost }; das sind { $strong }{ $score } %{ $strong_end }. Bei dieser Zahl von Opfern kann der wahre Wert irgendwo zwischen { $lower } und { $upper } % liegen.
same-colours-scored = In allen Partien der Sammlung erzielten dieselben Farben { $score } %.
same-colours-scored-expected = In allen Partien der Sammlung erzielten dieselben Farben { $score } %; nach ihren Wertungszahlen hätten die Angreifer { $expected } % erzielen sollen ({ $rated ->
    [one] { $rated } Opfer in einer Partie mit Wertungszahlen
   *[other] { $rated } Opfer in Partien mit Wertungszahlen
}).
attacker-mated = In { $share } % der Fälle setzte der Angreifer matt.
half-were-over = In der Hälfte der Fälle war die Partie spätestens { $moves } Züge nach dem Opfer zu Ende.
no-results = Keine dieser Partien hat ein Ergebnis.
too-few-to-score = Der Angreifer gewann { $won }, remisierte { $drawn } und verlor { $lost }. Weniger als { $least } Ergebnisse sagen nichts darüber, wie gut das Opfer abschneidet.
kinds-told = Nach dem Verlauf der Partien: { $parts }.
kinds-alone = { $kind ->
    [sham] Nach dem Verlauf der Partien war jedes ein Scheinopfer (angenommen, und binnen vier Zügen hatte der Angreifer matt gesetzt, gewonnen oder das Material zurück).
    [real] Nach dem Verlauf der Partien war jedes ein echtes Opfer (angenommen, und nach vier Zügen fehlte dem Angreifer noch Material).
    [desperado] Nach dem Verlauf der Partien war jedes ein Desperado (was geopfert wurde, war ohnehin verloren).
   *[declined] Nach dem Verlauf der Partien wurde jedes Opfer abgelehnt.
}
kinds-alone-one = { $kind ->
    [sham] Nach dem Verlauf der Partie war das einzige ein Scheinopfer (angenommen, und binnen vier Zügen hatte der Angreifer matt gesetzt, gewonnen oder das Material zurück).
    [real] Nach dem Verlauf der Partie war das einzige ein echtes Opfer (angenommen, und nach vier Zügen fehlte dem Angreifer noch Material).
    [desperado] Nach dem Verlauf der Partie war das einzige ein Desperado (was geopfert wurde, war ohnehin verloren).
   *[declined] Nach dem Verlauf der Partie wurde das einzige Opfer abgelehnt.
}
kinds-number-of-these = { $number } davon
kinds-part = { $kind ->
    [sham] { $games ->
        [one] { $number } war ein Scheinopfer (angenommen, und binnen vier Zügen hatte der Angreifer matt gesetzt, gewonnen oder das Material zurück)
       *[other] { $number } waren Scheinopfer (angenommen, und binnen vier Zügen hatte der Angreifer matt gesetzt, gewonnen oder das Material zurück)
    }
    [real] { $games ->
        [one] { $number } war ein echtes Opfer (angenommen, und nach vier Zügen fehlte dem Angreifer noch Material)
       *[other] { $number } waren echte Opfer (angenommen, und nach vier Zügen fehlte dem Angreifer noch Material)
    }
    [desperado] { $games ->
        [one] { $number } war ein Desperado (was geopfert wurde, war ohnehin verloren)
       *[other] { $number } waren Desperados (was geopfert wurde, war ohnehin verloren)
    }
   *[declined] { $games ->
        [one] { $number } wurde abgelehnt
       *[other] { $number } wurden abgelehnt
    }
}
kinds-part-scored = { $part }, mit einem Ergebnis von { $score } %
kinds-part-last = und { $part }
free-moves = { $number ->
    [1] Ein weiterer Zug gab gar nichts auf.
   *[other] Weitere { $number } Züge gaben gar nichts auf.
}
free-moves-scored = { $number ->
    [1] Ein weiterer Zug gab gar nichts auf und erzielte { $score } %.
   *[other] Weitere { $number } Züge gaben gar nichts auf und erzielten { $score } %.
}
worth-of-these = Von diesen Opfern gilt: { $parts }.
worth-yes = { $number ->
    [one] { $number } ist korrekt
   *[other] { $number } sind korrekt
}
worth-holds = { $number ->
    [one] { $number } hält das Gleichgewicht
   *[other] { $number } halten das Gleichgewicht
}
worth-no = { $number ->
    [one] { $number } ist nicht korrekt
   *[other] { $number } sind nicht korrekt
}
worth-last-try = { $number ->
    [one] { $number } ist ein letzter Versuch in verlorener Stellung
   *[other] { $number } sind letzte Versuche in verlorener Stellung
}
worth-open = { $number ->
    [one] { $number } ist offen
   *[other] { $number } sind offen
}
verdicts-of-these = Von diesen Urteilen gilt: { $parts }.
verdicts-proved = { $number ->
    [one] { $number } ist bewiesen
   *[other] { $number } sind bewiesen
}
verdicts-judged = { $number ->
    [one] { $number } stammt von einer Engine
   *[other] { $number } stammen von einer Engine
}
verdicts-from-game = { $number ->
    [one] { $number } stammt aus Bewertungen in den Kommentaren der Partie
   *[other] { $number } stammen aus Bewertungen in den Kommentaren der Partien
}
verdicts-counted = { $number ->
    [one] { $number } ist am Material gezählt
   *[other] { $number } sind am Material gezählt
}
sound-ones-scored = In der Praxis erzielten die korrekten { $sound } %, die nicht korrekten { $unsound } %.
plot-by-rating = Ergebnis des Angreifers in Prozent, nach Wertungszahl
plot-by-rating-below = mittlere Wertungszahl, in Stufen von 200
plot-by-rating-caption = Ergebnis des Angreifers nach Wertungszahl, in Prozent. Linien sind 95-Prozent-Intervalle; Stufen mit weniger als { $least } Ergebnissen fehlen.
plot-by-year = Opfer je { 10000 } Partien, nach Jahren
plot-by-year-below = Jahr
plot-by-year-caption = Wie oft der Zug je { 10000 } Partien gespielt wurde, nach Jahren; Jahre mit weniger als 100 Partien fehlen.
plot-gain = Gewinn und sein Intervall
plot-value = { $name }: { $value }
plot-value-from-to = { $name }: { $value } ({ $lower } bis { $upper })
plot-gain-from-to = { $value }, { $lower } bis { $upper }.
rules-measured = Jede Regel ist eine Tatsache der Stellung unmittelbar vor dem Opfer. Die Tabelle zeigt das Ergebnis des Angreifers in Prozent, wenn die Regel gilt und wenn sie nicht gilt. Punkte zeigen den Gewinn, Linien sein 95-Prozent-Intervall.
rules-unmeasured = Es sind zu wenige Partien, um diese Regeln zu messen: Für jede wären { $least } Partien mit ihr und { $least } ohne sie nötig. Nimm sie also als Dinge, auf die zu achten ist, nicht als Befunde.
rules-head = Vor dem Opfer
rules-with = Damit
rules-without = Ohne
rules-gain = Gewinn
rule-too-few = zu wenige Partien
rule-always = gilt hier immer
rule-never = gilt hier nie
rule-after-offer = nach dem Opfer: { $fact }
rule-hardly-chance = kaum Zufall
rule-balance = erklärt das Material
rule-may-be-chance = vielleicht Zufall
rule-games = { $with ->
    [one] ({ $with } Partie damit, { $without } ohne)
   *[other] ({ $with } Partien damit, { $without } ohne)
}
rules-note = Die Bilder reichen von −{ $widest } links bis +{ $widest } rechts. { $em }Kaum Zufall{ $em_end }: Der Zufall allein brächte einen solchen Gewinn seltener als einmal in zwanzig Fällen hervor, die Zahl dieser Regeln berücksichtigt. { $em }Erklärt das Material{ $em_end }: Unter Opfern bei gleichem Material zuvor bleibt höchstens die Hälfte dieses Gewinns, und das kann Zufall sein. Eine Regel, die mit guten Ergebnissen einhergeht, muss nicht deren Ursache sein.
rules-note-in-course = Die Bilder reichen von −{ $widest } links bis +{ $widest } rechts. { $em }Kaum Zufall{ $em_end }: Der Zufall allein brächte einen solchen Gewinn seltener als einmal in zwanzig Fällen hervor, die Zahl der Regeln aller Lektionen dieses Kurses berücksichtigt. { $em }Erklärt das Material{ $em_end }: Unter Opfern bei gleichem Material zuvor bleibt höchstens die Hälfte dieses Gewinns, und das kann Zufall sein. Eine Regel, die mit guten Ergebnissen einhergeht, muss nicht deren Ursache sein.
tree-says = { $turned ->
    [as-written] Die Züge vom Opfer an, die häufigsten zuerst, gezeigt, als griffe Weiß an.
    [mirrored] Die Züge vom Opfer an, die häufigsten zuerst, gezeigt, als griffe Weiß am Königsflügel an.
   *[shifted] Die Züge vom Opfer an, die häufigsten zuerst, gezeigt, als griffe Weiß an, und gespiegelt, wo das Motiv es ist.
} Neben jedem Zug: die Zahl der Partien, in denen er gespielt wurde, und das Ergebnis des Angreifers in Prozent.
tree-move = Zug
tree-games = Partien
tree-score = Ergebnis
tree-others = andere
tree-games-of = { $number ->
    [one] { $number }{ $heard } Partie,{ $heard_end }
   *[other] { $number }{ $heard } Partien,{ $heard_end }
}
tree-score-of = { $heard }Ergebnis { $heard_end }{ $score }
tree-note = Bei weniger als { $least } Partien mit Ergebnis steht kein Prozentwert.
games-say = Zuerst Scheinopfer, die gewannen und deren Preis bald zurückkam, dann echte Opfer, dann abgelehnte, zuletzt Partien, die nicht gewonnen wurden; alle aus Sicht des Angreifers.
games-step = Gehe mit den Knöpfen durch die Züge, durch Wischen über das Brett oder mit den Tasten ← → Pos1 Ende, sobald ein Brett ausgewählt ist; ↑ führt zurück zum Opfer.
games-chosen = Wie sie ausgewählt sind: so, dass jede etwas hinzufügt, eine Antwort, eine Farbe, eine Spielstärke oder eine Art. Angenommene Opfer kommen vor abgelehnten, Matts und kurze Partien vor langen, und Partien, in denen die Züge zum Ergebnis passen, vor anderen. Unter gleichen die Partie, deren schwächerer Spieler die höhere Wertungszahl hat.
games-chosen-judged = Wie sie ausgewählt sind: so, dass jede etwas hinzufügt, eine Antwort, eine Farbe, eine Spielstärke oder eine Art. Angenommene Opfer kommen vor abgelehnten, Matts und kurze Partien vor langen, und Partien, in denen das Ergebnis zu dem passt, was über das Opfer bekannt ist, oder, wo nichts bekannt ist, die Züge zum Ergebnis passen, vor anderen. Unter gleichen die Partie, deren schwächerer Spieler die höhere Wertungszahl hat.
before-the-offer = Vor dem Opfer
step-first = Anfang
step-offer = Opfer
step-opened = Erstes Brett
step-last = Ende
offers-for = { $pawns ->
    [1] { FORM($side) } gibt { FORM($man, as: "given") } für { FORM($taken, as: "given") } (Wert: ein Bauer).
   *[other] { FORM($side) } gibt { FORM($man, as: "given") } für { FORM($taken, as: "given") } (Wert: { $pawns } Bauern).
}
offers = { $pawns ->
    [1] { FORM($side) } opfert { FORM($man, as: "given") } (Wert: ein Bauer).
   *[other] { FORM($side) } opfert { FORM($man, as: "given") } (Wert: { $pawns } Bauern).
}
offers-worth = { $pawns ->
    [1] { FORM($side) } opfert Material im Wert eines Bauern.
   *[other] { FORM($side) } opfert Material im Wert von { $pawns } Bauern.
}
never-more-down = { $pawns ->
    [1] { FORM($side) } büßt gegenüber der Stellung vor dem Opfer nie mehr als einen Bauern ein.
   *[other] { FORM($side) } büßt gegenüber der Stellung vor dem Opfer nie mehr als Material im Wert von { $pawns } Bauern ein.
}
at-the-offer = Beim Opfer: { $facts }.
source-game = Partie { $number } aus { $file }.
with-best-play = Bei bestem Spiel: { $does }.
with-best-play-line = Bei bestem Spiel: { $does }: { $line }
in-plan-it = ; { $does }
offer-sound = das Opfer ist korrekt
offer-holds = das Opfer hält das Gleichgewicht
offer-not-sound = das Opfer ist nicht korrekt
offer-last-try = das Opfer ist ein letzter Versuch in verlorener Stellung
offer-open = das Urteil über das Opfer ist offen
offer-judged = { $does }, nach dem Urteil einer Engine
offer-judged-points = { $does }, nach dem Urteil einer Engine ({ $after } von hundert Punkten)
offer-judged-points-best = { $does }, nach dem Urteil einer Engine ({ $after } von hundert Punkten, und { $best } mit dem besten anderen Zug)
offer-from-game = { $does }, nach den Bewertungen in den Kommentaren der Partie
offer-from-game-points = { $does }, nach den Bewertungen in den Kommentaren der Partie ({ $after } von hundert Punkten)
offer-from-game-points-best = { $does }, nach den Bewertungen in den Kommentaren der Partie ({ $after } von hundert Punkten, und { $best } mit dem besten anderen Zug)
offer-mates = { $moves ->
    [1] das Opfer setzt sofort matt
   *[other] das Opfer setzt in { $moves } Zügen matt
}
offer-is-mated = { $moves ->
    [1] das Opfer lässt die andere Seite in einem Zug matt setzen
   *[other] das Opfer lässt die andere Seite in { $moves } Zügen matt setzen
}
offer-is-mated-like-all = { offer-is-mated }, wie jeder andere Zug
offer-draws = das Opfer erzwingt Remis
offer-gains = { $pawns ->
    [one] das Opfer gewinnt { $pawns } Bauern, { $depth } Halbzüge tief gezählt
   *[other] das Opfer gewinnt { $pawns } Bauern, { $depth } Halbzüge tief gezählt
}
offer-is-down = { $pawns ->
    [one] das Opfer kostet { $pawns } Bauern, { $depth } Halbzüge tief gezählt
   *[other] das Opfer kostet { $pawns } Bauern, { $depth } Halbzüge tief gezählt
}
offer-level = das Opfer gewinnt und kostet am Ende nichts, { $depth } Halbzüge tief gezählt
why-offer-mates = Das Opfer setzt matt.
why-mate = { $answer ->
    [king] Der König nimmt und geht nach { $square }; das Matt folgt { $moves ->
        [1] in einem Zug.
       *[other] in { WORD($moves) } Zügen.
    }
    [accepted] Das Opfer wird angenommen; das Matt folgt { $moves ->
        [1] in einem Zug.
       *[other] in { WORD($moves) } Zügen.
    }
   *[declined] Das Opfer wird abgelehnt; das Matt folgt { $moves ->
        [1] in einem Zug.
       *[other] in { WORD($moves) } Zügen.
    }
}
why-made-good = { $answer ->
    [king] Der König nimmt und geht nach { $square }; das Material kommt { $moves ->
        [1] in einem Zug zurück.
       *[other] in { WORD($moves) } Zügen zurück.
    }
    [accepted] Das Opfer wird angenommen; das Material kommt { $moves ->
        [1] in einem Zug zurück.
       *[other] in { WORD($moves) } Zügen zurück.
    }
   *[declined] Das Opfer wird abgelehnt; das Material kommt { $moves ->
        [1] in einem Zug zurück.
       *[other] in { WORD($moves) } Zügen zurück.
    }
}
why-won-soon = { $answer ->
    [king] Der König nimmt und geht nach { $square }; die Partie ist { $moves ->
        [1] in einem Zug gewonnen.
       *[other] in { WORD($moves) } Zügen gewonnen.
    }
    [accepted] Das Opfer wird angenommen; die Partie ist { $moves ->
        [1] in einem Zug gewonnen.
       *[other] in { WORD($moves) } Zügen gewonnen.
    }
   *[declined] Das Opfer wird abgelehnt; die Partie ist { $moves ->
        [1] in einem Zug gewonnen.
       *[other] in { WORD($moves) } Zügen gewonnen.
    }
}
why-real = { $answer ->
    [king] Der König nimmt und geht nach { $square }; nach vier Zügen fehlt noch Material, und doch gewinnt der Angreifer.
    [accepted] Das Opfer wird angenommen; nach vier Zügen fehlt noch Material, und doch gewinnt der Angreifer.
   *[declined] Das Opfer wird abgelehnt; nach vier Zügen fehlt noch Material, und doch gewinnt der Angreifer.
}
why-won = { $answer ->
    [king] Der König nimmt und geht nach { $square }, und der Angreifer gewinnt.
    [accepted] Das Opfer wird angenommen, und der Angreifer gewinnt.
   *[declined] Das Opfer wird abgelehnt, und der Angreifer gewinnt.
}
why-not-sound = { $drawn ->
    [yes] Ein Fehlschlag zum Vergleich: Das Opfer ist nicht korrekt, und die Partie endet remis.
   *[no] Ein Fehlschlag zum Vergleich: Das Opfer ist nicht korrekt, und der Angreifer verliert.
}
why-holds = { $drawn ->
    [yes] Das Opfer ist ein Remis wert, und die Partie endet remis.
   *[no] Das Opfer ist ein Remis wert, und der Angreifer verliert.
}
why-to-compare = { $drawn ->
    [yes] Eine Partie zum Vergleich: Sie endet remis.
   *[no] Eine Partie zum Vergleich: Der Angreifer verliert.
}
glyph-7 = erzwungen
glyph-8 = der einzige Zug
glyph-9 = der schlechteste Zug
glyph-12 = mit Spiel
glyph-20 = hoffnungslos für Schwarz
glyph-21 = hoffnungslos für Weiß
glyph-22 = Zugzwang
glyph-32 = Weiß hat Entwicklungsvorsprung
glyph-33 = Schwarz hat Entwicklungsvorsprung
glyph-36 = Weiß hat die Initiative
glyph-37 = Schwarz hat die Initiative
glyph-40 = Weiß greift an
glyph-41 = Schwarz greift an
glyph-44 = Weiß hat Kompensation
glyph-45 = Schwarz hat Kompensation
glyph-132 = Weiß hat Gegenspiel
glyph-133 = Schwarz hat Gegenspiel
glyph-136 = Weiß ist knapp an Zeit
glyph-137 = Schwarz ist knapp an Zeit
glyph-138 = Weiß ist in Zeitnot
glyph-139 = Schwarz ist in Zeitnot
lesson-asks = Finde, was die Seite unten opfern kann, um in Vorteil zu kommen, oder, wo schon etwas geopfert wurde, wie es weitergeht. Wo ein Zug als Linie gezeichnet ist, sage, ob er aufgeht. { $rests_on }
lesson-asks-nothing = Aus keinem Opfer dieser Tabellen wird eine Aufgabe: Von keinem wurde gefunden, dass es scheitert oder dass es aufgeht und nichts anderes ebenso gut ist.
solution-to = Lösung zu { $number }
made-from-tables = { $games ->
    [one] Erstellt mit hecatomb { $version } aus seinen Tabellen von { $games } Partie. Intervalle sind 95-Prozent-Intervalle.
   *[other] Erstellt mit hecatomb { $version } aus seinen Tabellen von { $games } Partien. Intervalle sind 95-Prozent-Intervalle.
}
footer-judged = Matts und Dauerschachs sind gegen jede Verteidigung bewiesen; Material ist bis zur genannten Tiefe gezählt. Wo eine Engine oder die Kommentare einer Partie über ein Opfer urteilen, ist das gesagt und beweist nichts.
footer-unjudged = Diese Seite zeigt, wie Partien verliefen, nicht, was das Beste war.

## Courses

course-title = Opfer: ein Kurs
course-says = { $lessons } aus { $games }: zu jedem Motiv, wie oft es vorkommt, wie gut es abschneidet, Partien zum Nachspielen und Aufgaben.
chapter-bishop = Der Läufer
chapter-knight = Der Springer
chapter-rook = Der Turm
chapter-queen = Die Dame
chapter-pawn = Der Bauer
chapter-any = Beliebige Steine
lesson-listed = { $games }
lesson-listed-scored = { $games }, der Angreifer erzielte { $score } %
sheets = Blätter
sheet-for-pupils = für Schüler
sheet-for-teachers = für Lehrer
sheet-for-both = mit Lösungen
sheet-for-projector = für den Beamer
other-pages = Weitere Seiten in diesem Ordner

## First plans

plan-keep = Der Plan eines Kurses. Behalte, verschiebe, streiche und ergänze, was du willst, und sage, was du sagen willst;
plan-then = dann macht `hecatomb course DIR --plan FILE` den Kurs. `hecatomb help plans` sagt mehr.
plan-motif = { $offers ->
    [one] { $title }: { $offers } Opfer in { $games }
   *[other] { $title }: { $offers } Opfer in { $games }
}
plan-motif-scored = { $offers ->
    [one] { $title }: { $offers } Opfer in { $games }; der Angreifer erzielte { $score } %
   *[other] { $title }: { $offers } Opfer in { $games }; der Angreifer erzielte { $score } %
}
plan-exercise = { $question } Stufe { $level }. { $reference }
plan-weaker = Der schwächere Spieler: { $rating }.

## Motifs, by the name of the query

motif-attacked-rook-takes-minor = Angegriffener Turm schlägt einen Läufer oder Springer
motif-b-pawn-gambit = Der b-Bauer, am Flügel geopfert
motif-bishop-hits-minor = Läuferopfer mit Angriff auf einen Läufer oder Springer
motif-bishop-hits-queen = Läuferopfer mit Angriff auf die Dame
motif-bishop-hits-rook = Läuferopfer mit Angriff auf einen Turm
motif-bishop-sacrifice = Ein Läufer wird geopfert
motif-bishop-takes-b5 = Läufer schlägt auf b5, der Springer folgt
motif-bishop-takes-e6 = Läufer schlägt auf e6, das nur der f-Bauer deckt
motif-bishop-takes-f7 = Läufer schlägt auf f7 und zieht den König heraus
motif-bishop-takes-g6 = Läufer schlägt auf g6, die Dame folgt
motif-bishop-takes-g7 = Läufer schlägt auf g7 und entblößt den König
motif-bishop-takes-h6 = Läufer schlägt auf h6, die Dame folgt
motif-bishop-takes-h6-perpetual = Läufer schlägt auf h6 und gibt Dauerschach
motif-bishop-takes-h7 = Läufer schlägt den Randbauern
motif-bishop-takes-h7-pawn-check = Läufer schlägt den Randbauern, der h-Bauer jagt den König
motif-bishop-takes-h7-pawn-to-g6 = Läufer schlägt den Randbauern, ein Bauer dringt ein
motif-bishop-takes-h7-quiet-offer = Der Läufer, der den Randbauern schlug, bleibt neben dem König stehen
motif-bishop-takes-h7-rook-lift = Läufer schlägt den Randbauern, der Turm schwenkt herüber
motif-bishop-to-h6 = Läuferopfer auf h6, vor den Königsbauern
motif-c-pawn-gambit = Der c-Bauer, für den d-Bauern geopfert
motif-c-pawn-offered-to-d5 = Der c-Bauer, dem Bauern auf d5 geopfert
motif-double-bishop = Beide Läufer für die Königsbauern
motif-exchange-in-ending = Qualitätsopfer im Endspiel
motif-exchange-in-middlegame = Qualitätsopfer im Mittelspiel
motif-exchange-offered-quietly = Der Turm stellt sich, wo ihn ein Läufer oder Springer schlagen kann
motif-exchange-sacrifice = Die Qualität wird geopfert
motif-f-pawn-gambit = Der f-Bauer, für den e-Bauern geopfert
motif-g-pawn-ram = Der g-Bauer als Rammbock
motif-h-pawn-ram = Der h-Bauer als Rammbock
motif-hanging-heavy-takes = Hängender Turm oder hängende Dame schlägt zuerst
motif-hanging-minor-takes = Hängender Läufer oder Springer schlägt zuerst
motif-in-between-capture = Zwischenschlag, während eine Figur zu schlagen ist
motif-in-between-check = Zwischenschach, und eine Figur kann geschlagen werden
motif-king-hunt = Königsjagd
motif-knight-f6-rook-edge = Springer auf f6, Turm am Rand
motif-knight-follow-up = Läufer schlägt den Randbauern, der Springer folgt
motif-knight-hits-minor = Springeropfer mit Angriff auf einen Läufer oder Springer
motif-knight-hits-queen = Springeropfer mit Angriff auf die Dame
motif-knight-hits-rook = Springeropfer mit Angriff auf einen Turm
motif-knight-sacrifice = Ein Springer wird geopfert
motif-knight-takes-d5 = Springer schlägt auf d5, für zwei Bauern und das Zentrum
motif-knight-takes-e5-fork = Springer schlägt auf e5, der d-Bauer gabelt
motif-knight-takes-e6 = Springer schlägt auf e6, das nur der f-Bauer deckt
motif-knight-takes-f7 = Springer schlägt auf f7, neben dem König
motif-knight-takes-g6 = Springer schlägt auf g6, vor dem König
motif-knight-takes-g7 = Springer schlägt auf g7, neben dem König
motif-knight-takes-h6 = Springer schlägt auf h6, vor dem König
motif-knight-to-d5 = Springer nach d5, dem e-Bauern geopfert
motif-knight-to-e6 = Springer nach e6, wo ein Bauer zurückschlägt und als Keil steht
motif-knight-to-f5 = Springer nach f5, einem Bauern geopfert
motif-knight-to-f6 = Springer nach f6, dem g-Bauern geopfert
motif-knight-to-g5 = Springerschach auf g5, einem Bauern geopfert
motif-knight-to-g6 = Springerschach auf g6, das die Randlinie öffnet
motif-knight-to-h6 = Springerschach auf h6, dem g-Bauern geopfert
motif-minor-for-pawns = Läufer oder Springer für Bauern
motif-minor-left-hits-heavy = Läufer oder Springer bleibt hängen, ein Turm oder die Dame ist angegriffen
motif-minor-left-hits-minor = Läufer oder Springer bleibt hängen, ein anderer ist angegriffen
motif-minor-offered-to-pawn = Läufer oder Springer, einem Bauern geopfert
motif-minor-piece-takes-f5 = Springer oder Läufer schlägt auf f5 und reißt die Bauernfront auf
motif-minor-piece-takes-g5 = Springer oder Läufer schlägt auf g5 und bricht die Bauern auf
motif-minor-piece-takes-h5 = Springer oder Läufer schlägt auf h5 und entblößt den König
motif-minor-takes-pawn-beside-king = Läufer oder Springer schlägt einen Bauern neben dem König
motif-passed-pawn-let-through = Figur geopfert, um einen Freibauern durchzulassen
motif-passed-pawn-offered = Freibauer, durch einen Bauernzug geopfert
motif-pawn-break-in-centre = Bauernhebel im Zentrum, auf e4 oder d4
motif-pawn-break-in-ending = Bauernhebel im Endspiel
motif-pawn-break-on-kingside = Bauernhebel am Königsflügel, auf f4 oder g4
motif-pawn-break-on-queenside = Bauernhebel am Damenflügel, auf b4, b5 oder c5
motif-pawn-breakthrough = Durchbruch: ein Bauer wird geopfert, ein anderer läuft
motif-pawn-check-offered = Bauernopfer mit Schach
motif-pawn-f6-net = Bauer auf f6, die Dame kommt nach g7
motif-pawn-for-pawn-in-ending = Bauer gegen Bauer im Endspiel: einer bleibt hängen, einer ist angegriffen
motif-pawn-for-pawn-in-middlegame = Bauer gegen Bauer im Mittelspiel: einer bleibt hängen, einer ist angegriffen
motif-pawn-hits-minor = Bauernopfer mit Angriff auf einen Läufer oder Springer
motif-pawn-hits-queen = Bauernopfer mit Angriff auf die Dame
motif-pawn-hits-rook = Bauernopfer mit Angriff auf einen Turm
motif-pawn-left-hits-minor = Bauer bleibt hängen, ein Läufer oder Springer ist angegriffen
motif-pawn-left-hits-queen = Bauer bleibt hängen, die Dame ist angegriffen
motif-pawn-left-hits-rook = Bauer bleibt hängen, ein Turm ist angegriffen
motif-pawn-offered-in-centre = Bauernopfer im Zentrum, im Mittelspiel
motif-pawn-offered-in-ending = Bauernopfer im Endspiel
motif-pawn-offered-on-queenside = Bauernopfer am Damenflügel, im Mittelspiel
motif-pawn-offered-on-sixth = Bauer auf die sechste Reihe vorgestoßen und geopfert
motif-pawn-promotion-offered = Bauer wandelt sich um und wird geschlagen, der nächste Zug schlägt zu
motif-pawn-push-hits-pawn = Bauernopfer im Mittelspiel, ein Bauer ist angegriffen
motif-pawn-sacrifice = Ein Bauer wird geopfert
motif-pawn-storm-offer = Bauer gegen den rochierten König geworfen
motif-pawn-to-d5 = Bauernvorstoß nach d5
motif-pawn-to-d6 = Bauernvorstoß nach d6, der d5 räumt oder den Verteidiger einschließt
motif-pawn-to-e5 = Bauernvorstoß nach e5
motif-pawn-to-e6 = Bauernvorstoß nach e6
motif-pawn-to-f5 = Bauernhebel auf f5 gegen den rochierten König
motif-pawn-to-f6 = Bauernvorstoß nach f6 gegen den König
motif-perpetual-check = Figur für Dauerschach
motif-piece-against-passed-pawn = Figur gegen den Freibauern der anderen Seite
motif-queen-back-rank = Damenopfer auf der Grundreihe
motif-queen-decoy-double-check = Die Dame lenkt den König in ein Doppelschach
motif-queen-deflection-back-rank = Die Dame auf der Grundreihe lenkt den Wächter von der d-Linie ab
motif-queen-for-fork = Dame für eine Gabel
motif-queen-for-rook = Dame für einen Turm
motif-queen-hits-queen = Damenopfer mit Angriff auf die Dame
motif-queen-left-hits-queen = Dame bleibt hängen, die andere Dame ist angegriffen
motif-queen-left-to-bishop = Springer schlägt auf e5 und überlässt die Dame dem Läufer
motif-queen-lift = Läufer schlägt den Randbauern, die Dame geht an den Rand
motif-queen-sacrifice = Die Dame wird geopfert
motif-queen-takes-c6-crossed-bishops = Dame schlägt auf c6, zwei Läufer setzen auf gekreuzten Diagonalen matt
motif-queen-takes-f6 = Dame schlägt auf f6, Turm auf der g-Linie, Läufer auf der langen Diagonale
motif-queen-takes-g8 = Dame schlägt den Turm neben dem König
motif-queen-takes-h6 = Dame schlägt auf h6 und lenkt den g-Bauern ab
motif-queen-takes-h7 = Dame schlägt auf h7 und zieht den König heraus
motif-queen-takes-h7-knight-e7 = Dame schlägt auf h7, Springer auf e7, Turm am Rand
motif-queen-to-corner = Die Dame lenkt den König in die Ecke
motif-rook-beside-king = Turmopfer mit Schach neben dem König
motif-rook-decoy-corner = Der Turm lenkt den König in die Ecke
motif-rook-deflection-back-rank = Der Turm auf der Grundreihe lenkt einen Wächter ab
motif-rook-for-fork = Turm für eine Gabel
motif-rook-hits-minor = Turmopfer mit Angriff auf einen Läufer oder Springer
motif-rook-hits-queen = Turmopfer mit Angriff auf die Dame
motif-rook-hits-rook = Turmopfer mit Angriff auf einen Turm
motif-rook-left-hits-heavy = Turm bleibt hängen, ein Turm oder die Dame ist angegriffen
motif-rook-sacrifice = Ein Turm wird geopfert
motif-rook-takes-bishop-e7 = Qualitätsopfer für den Läufer auf e7 oder d6
motif-rook-takes-bishop-g7 = Qualitätsopfer für den Läufer auf g7 oder f6
motif-rook-takes-e6 = Turm schlägt auf e6, gegen den König im Zentrum
motif-rook-takes-f7 = Turm schlägt auf f7, neben dem König
motif-rook-takes-f8 = Turm schlägt auf f8 den letzten Wächter des Königs
motif-rook-takes-g6 = Turm schlägt auf g6, vor dem König
motif-rook-takes-g7 = Turm schlägt auf g7, neben dem König
motif-rook-takes-g7-perpetual = Turm schlägt auf g7 und gibt Dauerschach
motif-rook-takes-guard-of-h7 = Turm schlägt den Springer, der h7 deckt
motif-rook-takes-guarded-pawn = Qualität für einen Bauern
motif-rook-takes-h6 = Turm schlägt auf h6 und lenkt den g-Bauern ab
motif-rook-takes-h7 = Turm schlägt auf h7 und zieht den König heraus
motif-rook-takes-knight-c6 = Qualitätsopfer auf c6
motif-rook-takes-knight-d3 = Qualitätsopfer für einen Springer auf der dritten Reihe
motif-rook-takes-knight-f6 = Qualitätsopfer auf f6
motif-rook-takes-minor-d4 = Qualitätsopfer im Zentrum, auf c4, d4, e4 oder f4
motif-rook-takes-minor-d5 = Qualitätsopfer auf d5
motif-rook-takes-minor-d7 = Qualitätsopfer auf d7 oder c7
motif-rook-takes-minor-e5 = Qualitätsopfer auf e5 oder c5
motif-rook-takes-minor-e6 = Qualitätsopfer auf e6
motif-rook-takes-minor-f5 = Qualitätsopfer auf f5
motif-rook-takes-minor-g5 = Qualitätsopfer neben dem rochierten König, auf g6, g5, g4 oder h5
motif-rook-takes-pawn-beside-king = Turm schlägt einen Bauern neben dem König, mit Schach
motif-rook-to-f6 = Turm nach e6 oder f6, einem Bauern geopfert
motif-smothered-mate = Damenopfer zum erstickten Matt
motif-stalemate-rescue = Rettung durch Patt
motif-windmill = Zwickmühle
