# Les mots des pages et des feuilles en français.
#
# THIS TRANSLATION WANTS A NATIVE READER: no chess trainer whose language it is has read it yet.
#
# Adresse : vous, la classe. Ce qui est offert s’appelle « sacrifice » dès l’offre ; un sacrifice qui est bon « marche ».

## Words that are filled in

white = Blancs
    .begins = Les blancs
    .mid = les blancs
    .of = des blancs
    .to = aux blancs
black = Noirs
    .begins = Les noirs
    .mid = les noirs
    .of = des noirs
    .to = aux noirs
king = roi
    .several = rois
queen = dame
    .several = dames
    .given = la dame
rook = tour
    .several = tours
    .given = une tour
bishop = fou
    .several = fous
    .given = un fou
knight = cavalier
    .several = cavaliers
    .given = un cavalier
pawn = pion
    .several = pions
    .given = un pion
number-0 = zéro
number-1 = un
number-2 = deux
number-3 = trois
number-4 = quatre
number-5 = cinq
number-6 = six
number-7 = sept
number-8 = huit
number-9 = neuf
number-10 = dix
number-11 = onze
number-12 = douze

## Numbers of things

list = { $first } et { $last }
semicolon = { " ; " }
games-counted = { $number ->
    [one] { $number } partie
   *[other] { $number } parties
}
lessons-counted = { $number ->
    [one] { $number } leçon
   *[other] { $number } leçons
}
exercises-counted = { $number ->
    [one] { $number } exercice
   *[other] { $number } exercices
}
points-counted = { $number ->
    [one] { $number } point
   *[other] { $number } points
}

## Kinds of sacrifice as the tables call them

kind-free = gratuit
kind-desperado = desperado
kind-sham = sacrifice apparent
kind-real = sacrifice réel
kind-declined = refusé

## All pages

skip-to-content = Aller au contenu
on-this-page = Sur cette page
made-by = Fait avec hecatomb { $version }.
read-as-they-are = Les tables ont été lues telles quelles (--edited) : que personne ne les ait changées n’a pas été vérifié.
only-these-kinds = Seuls les sacrifices de ce type sont comptés : { $kinds }.
only-these-kinds-by-force = Seuls les sacrifices qui sont par force de ce type sont comptés : { $kinds }.

## Diagrams, for people who hear them

diagram = Diagramme d’échecs
diagram-men = { $count ->
    [one] { FORM($man) } { $squares }
   *[other] { FORM($man, as: "several") } { $squares }
}
diagram-no-men = aucune pièce
diagram-side = { FORM($side) } : { $men }
to-move = trait { FORM($side, as: "to") }
diagram-ringed = Cerclées : { $squares }.
diagram-line = Une ligne de { $from } à { $to }.

## Boards to step through

board-keys = Échiquier ; les flèches parcourent les coups
board-plain = Échiquier
board-at-move = { $move } ({ $at } sur { $last })
board-at-start = Le début de la partie
game-after-move = Partie { $number }, après { $move }
game-at-start = Partie { $number }, au début
game-before-offer = Partie { $number }, avant le sacrifice
game-as-it-opens = Partie { $number }, première position

## What an exercise asks

exercises-mixed = Exercices sur les sacrifices
exercise-find = Trouvez le sacrifice
    .word = trouver
    .asks = Le camp au trait peut sacrifier quelque chose et en sortir avec l’avantage. Trouvez le sacrifice, et ce qui suit s’il est accepté et s’il est refusé.
exercise-judge = Est-ce que ça marche ?
    .word = juger
    .asks = La ligne de chaque diagramme est un sacrifice. Est-ce qu’il marche ? Donnez une raison : les coups qui le font marcher, ou la réponse qui le réfute. Environ la moitié échouent.
    .caution = Ici un sacrifice marche s’il laisse son camp mieux et qu’aucun autre coup ne lui laisse nettement plus ; il ne marche pas s’il court au mat ou gâche ce qu’un autre coup conserve.
exercise-continue = Accepté : et maintenant ?
    .word = continuer
    .asks = Le sacrifice a été accepté. Trouvez le coup qui le justifie, et ce qui suit.
exercise-defend = La meilleure défense
    .word = défendre
    .asks = Quelque chose est offert ou vient d’être pris. Une réponse est nettement meilleure que toutes les autres. Trouvez-la : faut-il accepter le sacrifice, et avec quelle pièce ? Où va le roi ? Dites ce qui ne va pas dans les autres.
exercise-mate = Mat en un ou deux coups
    .word = mat
    .asks = L’attaque touche à sa fin. Trouvez le mat dans le nombre de coups indiqué, contre toute défense.
exercise-reply = La seule réponse
    .word = réponse
    .asks = La ligne est un sacrifice qui vient d’être joué. Toutes les réponses sauf une courent au mat dans le nombre de coups indiqué ou plus vite. Trouvez celle qui l’évite, et dites comment les autres sont matées.
exercise-king = Où le roi ne doit pas aller
    .word = roi
    .asks = Le sacrifice a été accepté, et l’attaque continue. Quels coups du roi courent au mat dans le nombre de coups indiqué ou plus vite ? Nommez-les tous, avec les mats.
exercise-check = Est-ce mat ?
    .word = échec
    .asks = La ligne de chaque diagramme est un échec. Est-ce mat ? Sinon, nommez une parade. Environ la moitié sont mat.
exercise-count = Comptez les pièces
    .word = compter
    .asks = Combien de pièces attaquent la case cerclée, et combien la défendent ? Les pions comptent, le roi aussi, de même qu’une pièce clouée. Une pièce derrière une autre sur la même ligne ne compte pas.

question-find = Trait { FORM($side, as: "to") }
    .among-others = Trait { FORM($side, as: "to") } : trouvez le sacrifice
question-judge = Est-ce que { $move } { FORM($side, as: "of") } marche ?
question-continue = Après { $moves }, trait { FORM($side, as: "to") }
    .among-others = Après { $moves }, trait { FORM($side, as: "to") } : et maintenant ?
question-defend = Après { $moves }, trait { FORM($side, as: "to") }
    .among-others = Après { $moves }, trait { FORM($side, as: "to") } : trouvez la meilleure défense
question-mate = { $number ->
    [1] { FORM($side, as: "begins") } jouent et matent en un coup
   *[other] { FORM($side, as: "begins") } jouent et matent en { WORD($number) } coups
}
question-reply = { $number ->
    [1] Après { $moves }, quelle réponse évite le mat en un coup ?
   *[other] Après { $moves }, quelle réponse évite le mat en { WORD($number) } coups ?
}
question-king = { $number ->
    [1] Après { $moves }, quels coups du roi permettent un mat en un coup ?
   *[other] Après { $moves }, quels coups du roi permettent un mat en { WORD($number) } coups ou moins ?
}
question-check = Est-ce que { $move } { FORM($side, as: "of") } est mat ?
question-count = Combien de pièces { FORM($attacker, as: "of") } attaquent { $square }, et combien { FORM($defender, as: "of") } la défendent ?

## Solutions

answer-works = Il marche
answer-fails = Il ne marche pas
answer-mate = C’est mat
answer-no-mate = Ce n’est pas mat
answer-into-mate = Courent au mat
moves-come-to = { $moves } : { $says }.
also-correct = Aussi correct :
aside-reply = Ou :
aside-mistake = Une erreur :
aside-better = Mieux :
aside-into-mate = Et :
aside-not-into-mate = Pas ainsi :
comes-to-mates = { $moves ->
    [1] { FORM($side, as: "mid") } matent
   *[other] { FORM($side, as: "mid") } matent en { $moves } coups
}
comes-to-gains = { $pawns ->
    [1] { FORM($side, as: "mid") } ont un pion de plus
   *[other] { FORM($side, as: "mid") } ont l’équivalent de { $pawns } pions de plus
}
comes-to-loses = { $pawns ->
    [1] { FORM($side, as: "mid") } ont un pion de moins
   *[other] { FORM($side, as: "mid") } ont l’équivalent de { $pawns } pions de moins
}
comes-to-level = le matériel est égal
comes-to-draw = nulle
comes-to-open = la lutte continue
comes-to-winning = { FORM($side, as: "mid") } ont une position gagnante
comes-to-winning-by-points = { FORM($side, as: "mid") } ont une position gagnante, { $points } points sur 100 attendus
comes-to-much-better = { FORM($side, as: "mid") } sont bien mieux, { $points } points sur 100 attendus
comes-to-better = { FORM($side, as: "mid") } sont mieux, { $points } points sur 100 attendus
comes-to-about-even = les chances sont à peu près égales, { $points } points sur 100 attendus pour { FORM($side, as: "mid") }
comes-to-even = les chances sont égales
comes-to-no-mate = { $moves ->
    [1] pas de mat en un coup
   *[other] pas de mat en { WORD($moves) } coups
}
comes-to-no-check = { FORM($side, as: "mid") } parent l’échec
comes-to-count = { FORM($attacker, as: "mid") } attaquent { $square } avec { $attackers }, { FORM($defender, as: "mid") } la défendent avec { $guards }
men-counted = { $number ->
    [0] aucune pièce ({ $squares })
    [1] une pièce ({ $squares })
   *[other] { WORD($number) } pièces ({ $squares })
}
best-play = Le meilleur jeu, pour autant qu’il a été trouvé.
features-reply = { $number ->
    [one] { $number } réponse à regarder
   *[other] { $number } réponses à regarder
}
features-king = { $number ->
    [one] { $number } coup à regarder
   *[other] { $number } coups à regarder
}
features-check = { $number ->
    [one] { $number } case près du roi à regarder
   *[other] { $number } cases près du roi à regarder
}
features-count = pièces à compter : { $number }
features-moves = { $number ->
    [one] { $number } coup
   *[other] { $number } coups
}
features-quiet = { $number ->
    [0] aucun tranquille
    [1] un tranquille
   *[other] { $number } tranquilles
}
features-offered = { $number ->
    [one] { $number } pion offert
   *[other] { $number } pions offerts
}
features-tempting = { $number ->
    [0] rien d’autre ne tente
    [1] un autre coup peut tenter
   *[other] { $number } autres coups peuvent tenter
}
features-replies = { $number ->
    [one] { $number } réponse par coup
   *[other] { $number } réponses par coup
}

## Sheets

exercise-title = Exercice { $number }
level-and-points = { $points ->
    [one] Niveau { $level }, { $points } point
   *[other] Niveau { $level }, { $points } points
}
solution-link = Solution{ $unseen } de l’exercice { $number }{ $unseen_end }
back-to-exercise = { $number }{ $unseen }, retour à l’exercice{ $unseen_end }
name = Nom
date = Date
points-of = Points, sur { $points }
exercises = Exercices
solutions = Solutions
solutions-counted = { $number ->
    [one] { $number } solution
   *[other] { $number } solutions
}
solution-source = { $from }. { $motif }. Niveau { $level } : { $features }.
how-these-score = Le résultat de ces sacrifices dans les parties examinées
game-of-file = partie { $number } de { $file }
motif-scored = { $offers ->
    [one] { $offers } sacrifice dans { $games } ; l’attaquant a obtenu { $score } % (intervalle à 95 % : de { $lower } à { $upper }).
   *[other] { $offers } sacrifices dans { $games } ; l’attaquant a obtenu { $score } % (intervalle à 95 % : de { $lower } à { $upper }).
}
motif-ended = { $offers ->
    [one] { $offers } sacrifice dans { $games } ; victoires de l’attaquant : { $won }, nulles : { $drawn }, défaites : { $lost }.
   *[other] { $offers } sacrifices dans { $games } ; victoires de l’attaquant : { $won }, nulles : { $drawn }, défaites : { $lost }.
}
rests-on-proofs = Les mats sont démontrés contre toute défense. Aucun moteur n’a été interrogé : les autres solutions gagnent trois pions ou plus et laissent l’attaquant en avance, au compte du matériel.
rests-on-engine = { $positions ->
    [one] Les mats sont démontrés contre toute défense ; tout le reste a été soumis à { $engine }, qui est d’accord ({ $positions } position par réponse).
   *[other] Les mats sont démontrés contre toute défense ; tout le reste a été soumis à { $engine }, qui est d’accord ({ $positions } positions par réponse).
}
rests-on-rules = Les mats sont démontrés contre toute défense ; qu’il n’y en ait pas en tant de coups a été démontré en essayant tout, et le reste, ce sont les règles des échecs.
rests-on-both = { $rests_on } Ni compte ni moteur n’a son mot à dire là où la question est : { $kinds }.
asked-in-pgn = Exercice { $number }, { $kind } : { $question } Niveau { $level } ({ $points }).
asked-in-epd = { $kind } : { $question } Niveau { $level } ({ $points }).
also-correct-since = Aussi correct : { $says }.
from-in-pgn = { $motif } : { $statistics } Niveau { $level } : { $features }. De la partie { $number } de { $file }. { $caution }
from-in-csv = De { $reference }

## Projector

slide-of = { $mark }{ $number }{ $mark_end } sur { $count }
back = Retour
next = Suivant
answer = Réponse
clock = Pendule
back-a-move = Un coup en arrière
on-a-move = Un coup en avant
keys-back = Flèche gauche, Page précédente
keys-answer = Espace, Entrée
keys-next = Flèche droite, Page suivante
keys-clock = C
projector-keys = Touches : ← et → (ou Page précédente et Page suivante) pour l’exercice précédent et le suivant, C pour la pendule.
projector-keys-with-answers = Touches : ← et → (ou Page précédente et Page suivante) pour l’exercice précédent et le suivant, Espace ou Entrée pour la réponse, ↓ et ↑ pour ses coups, C pour la pendule.

## Lessons

course-nav = Cours
all-lessons = Toutes les leçons
previous-lesson = Précédente : { $title }
next-lesson = Suivante : { $title }
part-motif = Le thème
part-numbers = Fréquence et résultat
part-numbers-title = Fréquence et résultat
part-rules = Règles pratiques
part-rules-title = Règles pratiques, mesurées
part-tree = Ce qui a été joué
part-games = Parties modèles
part-exercises = Exercices
part-exercises-title = Que joueriez-vous ?
query-offer = La requête, du côté de l’attaquant : { $offer }
query-when = , quand : { $fact }
query-after = , et juste après : { $fact }
query-then = , puis : { $sequel }
query-more = ; { $fact }
query-or = { " ou : " }
query-and-later = { ", et plus tard " }
query-never = jamais { $sequel }
key-diagram = Les cases du sacrifice
key-one-ring = La ligne est le sacrifice ; le cercle marque sa case.
key-rings = La ligne est le sacrifice ; les cercles marquent sa case et celles dont parlent les règles pratiques et les suites.
motif-is-rare = { $strong }Ce thème est rare dans ces tables.{ $strong_end } { $number ->
    [one] Elles contiennent { $number } partie où quelque chose a été sacrifié.
   *[other] Elles contiennent { $number } parties où quelque chose a été sacrifié.
} Cela montre comment cela peut aller, non comment cela va d’ordinaire ; une collection plus grande en montrerait davantage.
made-times = Dans { $games }, le coup a été joué { $number ->
    [one] { $number } fois.
   *[other] { $number } fois.
}
made-times-often = Dans { $games }, le coup a été joué { $number ->
    [one] { $number } fois
   *[other] { $number } fois
}, soit { $often ->
    [one] { $often } fois
   *[other] { $often } fois
} sur { 10000 } parties.
given-up-always = À chaque fois, quelque chose a été sacrifié.
given-up-some = Dans { $number } de ces cas, quelque chose a été sacrifié ; seuls ceux-là sont comptés par la suite.
accepted-always = Le défenseur a toujours accepté.
accepted-some = Le défenseur a accepté { $accepted } sacrifices sur { $answered }.
attacker-scored = Victoires de l’attaquant : { $won } ; nulles : { $drawn } ; défaites : { $lost } ; soit un résultat de { $strong }{ $score } %{ $strong_end }. Avec ce nombre de sacrifices, la vraie valeur peut être n’importe où entre { $lower } et { $upper } %.
same-colours-scored = Dans toutes les parties de la collection, les mêmes couleurs ont obtenu { $score } %.
same-colours-scored-expected = Dans toutes les parties de la collection, les mêmes couleurs ont obtenu { $score } % ; d’après leur Elo, les attaquants auraient dû obtenir { $expected } % ({ $rated ->
    [one] { $rated } sacrifice dans une partie classée
   *[other] { $rated } sacrifices dans des parties classées
}).
attacker-mated = Dans { $share } % des cas, l’attaquant a maté.
half-were-over = Dans la moitié des cas, la partie s’est terminée au plus { $moves } coups après le sacrifice.
no-results = Aucune de ces parties n’a de résultat.
too-few-to-score = Victoires de l’attaquant : { $won } ; nulles : { $drawn } ; défaites : { $lost }. Moins de { $least } résultats ne disent rien de sa réussite.
kinds-told = D’après le cours des parties : { $parts }.
kinds-alone = { $kind ->
    [sham] D’après le cours des parties, tous étaient des sacrifices apparents (acceptés, et en quatre coups l’attaquant a maté, gagné ou récupéré le matériel).
    [real] D’après le cours des parties, tous étaient des sacrifices réels (acceptés, et après quatre coups il manquait encore du matériel à l’attaquant).
    [desperado] D’après le cours des parties, tous étaient des desperados (ce qui a été donné était perdu de toute façon).
   *[declined] D’après le cours des parties, tous les sacrifices ont été refusés.
}
kinds-alone-one = { $kind ->
    [sham] D’après le cours de la partie, le seul était un sacrifice apparent (accepté, et en quatre coups l’attaquant a maté, gagné ou récupéré le matériel).
    [real] D’après le cours de la partie, le seul était un sacrifice réel (accepté, et après quatre coups il manquait encore du matériel à l’attaquant).
    [desperado] D’après le cours de la partie, le seul était un desperado (ce qui a été donné était perdu de toute façon).
   *[declined] D’après le cours de la partie, le seul sacrifice a été refusé.
}
kinds-number-of-these = parmi eux, { $number }
kinds-part = { $kind ->
    [sham] { $games ->
        [one] { $number } était un sacrifice apparent (accepté, et en quatre coups l’attaquant a maté, gagné ou récupéré le matériel)
       *[other] { $number } étaient des sacrifices apparents (acceptés, et en quatre coups l’attaquant a maté, gagné ou récupéré le matériel)
    }
    [real] { $games ->
        [one] { $number } était un sacrifice réel (accepté, et après quatre coups il manquait encore du matériel à l’attaquant)
       *[other] { $number } étaient des sacrifices réels (acceptés, et après quatre coups il manquait encore du matériel à l’attaquant)
    }
    [desperado] { $games ->
        [one] { $number } était un desperado (ce qui a été donné était perdu de toute façon)
       *[other] { $number } étaient des desperados (ce qui a été donné était perdu de toute façon)
    }
   *[declined] { $games ->
        [one] { $number } a été refusé
       *[other] { $number } ont été refusés
    }
}
kinds-part-scored = { $part }, avec un résultat de { $score } %
kinds-part-last = et { $part }
free-moves = { $number ->
    [1] Un autre coup ne donnait rien.
   *[other] { $number } autres coups ne donnaient rien.
}
free-moves-scored = { $number ->
    [1] Un autre coup ne donnait rien et a obtenu { $score } %.
   *[other] { $number } autres coups ne donnaient rien et ont obtenu { $score } %.
}
worth-of-these = Parmi ces sacrifices, { $parts }.
worth-yes = { $number ->
    [one] { $number } est correct
   *[other] { $number } sont corrects
}
worth-holds = { $number ->
    [one] { $number } maintient l’équilibre
   *[other] { $number } maintiennent l’équilibre
}
worth-no = { $number ->
    [one] { $number } n’est pas correct
   *[other] { $number } ne sont pas corrects
}
worth-last-try = { $number ->
    [one] { $number } est une dernière tentative dans une position perdue
   *[other] { $number } sont des dernières tentatives dans une position perdue
}
worth-open = { $number ->
    [one] { $number } reste ouvert
   *[other] { $number } restent ouverts
}
verdicts-of-these = Parmi ces verdicts, { $parts }.
verdicts-proved = { $number ->
    [one] { $number } est démontré
   *[other] { $number } sont démontrés
}
verdicts-judged = { $number ->
    [one] { $number } vient d’un moteur
   *[other] { $number } viennent d’un moteur
}
verdicts-from-game = { $number ->
    [one] { $number } vient d’évaluations dans les commentaires de la partie
   *[other] { $number } viennent d’évaluations dans les commentaires des parties
}
verdicts-counted = { $number ->
    [one] { $number } est compté au matériel
   *[other] { $number } sont comptés au matériel
}
sound-ones-scored = Dans la pratique, les corrects ont obtenu { $sound } %, ceux qui ne le sont pas { $unsound } %.
plot-by-rating = Résultat de l’attaquant en pour cent, selon l’Elo
plot-by-rating-below = Elo moyen, par tranches de 200
plot-by-rating-caption = Résultat de l’attaquant selon l’Elo, en pour cent. Les lignes sont des intervalles à 95 % ; les tranches de moins de { $least } résultats sont omises.
plot-by-year = Sacrifices pour { 10000 } parties, par année
plot-by-year-below = année
plot-by-year-caption = Combien de fois le coup a été joué pour { 10000 } parties, par année ; les années de moins de 100 parties sont omises.
plot-gain = Gain et son intervalle
plot-value = { $name } : { $value }
plot-value-from-to = { $name } : { $value } (de { $lower } à { $upper })
plot-gain-from-to = { $value }, de { $lower } à { $upper }.
rules-measured = Chaque règle est un fait de la position juste avant le sacrifice. Le tableau donne le résultat de l’attaquant en pour cent quand la règle est vraie et quand elle ne l’est pas. Les points montrent le gain, les lignes son intervalle à 95 %.
rules-unmeasured = Il y a trop peu de parties pour les mesurer : chaque règle demanderait { $least } parties avec elle et { $least } sans elle. Prenez-les donc comme des choses à observer, non comme des résultats.
rules-head = Avant le sacrifice
rules-with = Avec
rules-without = Sans
rules-gain = Gain
rule-too-few = trop peu de parties
rule-always = toujours vrai ici
rule-never = jamais vrai ici
rule-after-offer = après le sacrifice : { $fact }
rule-hardly-chance = guère le hasard
rule-balance = le matériel l’explique
rule-may-be-chance = peut-être le hasard
rule-games = { $with ->
    [one] ({ $with } partie avec, { $without } sans)
   *[other] ({ $with } parties avec, { $without } sans)
}
rules-note = Les graphiques vont de −{ $widest } à gauche à +{ $widest } à droite. { $em }Guère le hasard{ $em_end } : le hasard seul produirait un tel gain moins d’une fois sur vingt, compte tenu du nombre de ces règles. { $em }Le matériel l’explique{ $em_end } : parmi les sacrifices faits avec un matériel égal auparavant, il reste au plus la moitié de ce gain, et cela peut être le hasard. Une règle qui accompagne de bons résultats n’en est pas forcément la cause.
rules-note-in-course = Les graphiques vont de −{ $widest } à gauche à +{ $widest } à droite. { $em }Guère le hasard{ $em_end } : le hasard seul produirait un tel gain moins d’une fois sur vingt, compte tenu du nombre de règles de toutes les leçons de ce cours. { $em }Le matériel l’explique{ $em_end } : parmi les sacrifices faits avec un matériel égal auparavant, il reste au plus la moitié de ce gain, et cela peut être le hasard. Une règle qui accompagne de bons résultats n’en est pas forcément la cause.
tree-says = { $turned ->
    [as-written] Les coups à partir du sacrifice, les plus fréquents d’abord, montrés comme si les blancs attaquaient.
    [mirrored] Les coups à partir du sacrifice, les plus fréquents d’abord, montrés comme si les blancs attaquaient à l’aile roi.
   *[shifted] Les coups à partir du sacrifice, les plus fréquents d’abord, montrés comme si les blancs attaquaient, et en miroir là où le thème l’est.
} À côté de chaque coup : le nombre de parties où il a été joué, et le résultat de l’attaquant en pour cent.
tree-move = coup
tree-games = parties
tree-score = résultat
tree-others = autres
tree-games-of = { $number ->
    [one] { $number }{ $heard } partie,{ $heard_end }
   *[other] { $number }{ $heard } parties,{ $heard_end }
}
tree-score-of = { $heard }résultat { $heard_end }{ $score }
tree-note = Aucun résultat n’est donné pour moins de { $least } parties terminées.
games-say = D’abord des sacrifices apparents gagnants, dont le prix est vite revenu, puis des sacrifices réels, puis des sacrifices refusés, et enfin des parties qui n’ont pas été gagnées ; toutes vues du côté de l’attaquant.
games-step = Parcourez-les avec les boutons, en glissant le doigt sur l’échiquier, ou avec les touches ← → Origine Fin quand un échiquier a le focus ; ↑ revient au sacrifice.
games-chosen = Comment elles ont été choisies : de sorte que chacune ajoute quelque chose, une réponse, une couleur, un niveau ou un type. Les sacrifices acceptés viennent avant les refusés, les mats et les parties courtes avant les longues, et les parties où les coups s’accordent avec le résultat avant les autres. À égalité, la partie dont le joueur le plus faible a le meilleur Elo.
games-chosen-judged = Comment elles ont été choisies : de sorte que chacune ajoute quelque chose, une réponse, une couleur, un niveau ou un type. Les sacrifices acceptés viennent avant les refusés, les mats et les parties courtes avant les longues, et les parties où le résultat s’accorde avec ce qu’on sait du sacrifice ou, là où on ne sait rien, où les coups s’accordent avec le résultat, avant les autres. À égalité, la partie dont le joueur le plus faible a le meilleur Elo.
before-the-offer = Avant le sacrifice
step-first = Début
step-offer = Sacrifice
step-opened = Première position
step-last = Fin
offers-for = { $pawns ->
    [1] { FORM($side, as: "begins") } donnent { FORM($man, as: "given") } pour { FORM($taken, as: "given") } (la valeur d’un pion).
   *[other] { FORM($side, as: "begins") } donnent { FORM($man, as: "given") } pour { FORM($taken, as: "given") } (la valeur de { $pawns } pions).
}
offers = { $pawns ->
    [1] { FORM($side, as: "begins") } sacrifient { FORM($man, as: "given") } (la valeur d’un pion).
   *[other] { FORM($side, as: "begins") } sacrifient { FORM($man, as: "given") } (la valeur de { $pawns } pions).
}
offers-worth = { $pawns ->
    [1] { FORM($side, as: "begins") } sacrifient la valeur d’un pion.
   *[other] { FORM($side, as: "begins") } sacrifient la valeur de { $pawns } pions.
}
never-more-down = { $pawns ->
    [1] { FORM($side, as: "begins") } ne perdent jamais plus d’un pion par rapport à la position d’avant le sacrifice.
   *[other] { FORM($side, as: "begins") } ne perdent jamais plus de la valeur de { $pawns } pions par rapport à la position d’avant le sacrifice.
}
at-the-offer = Au moment du sacrifice : { $facts }.
source-game = Partie { $number } de { $file }.
with-best-play = Avec le meilleur jeu, { $does }.
with-best-play-line = Avec le meilleur jeu, { $does } : { $line }
in-plan-it = ; { $does }
offer-sound = le sacrifice est correct
offer-holds = le sacrifice maintient l’équilibre
offer-not-sound = le sacrifice n’est pas correct
offer-last-try = le sacrifice est une dernière tentative dans une position perdue
offer-open = le sacrifice reste indécis
offer-judged = { $does }, selon un moteur
offer-judged-points = { $does }, selon un moteur ({ $after } points sur cent)
offer-judged-points-best = { $does }, selon un moteur ({ $after } points sur cent, et { $best } avec le meilleur autre coup)
offer-from-game = { $does }, selon les évaluations dans les commentaires de la partie
offer-from-game-points = { $does }, selon les évaluations dans les commentaires de la partie ({ $after } points sur cent)
offer-from-game-points-best = { $does }, selon les évaluations dans les commentaires de la partie ({ $after } points sur cent, et { $best } avec le meilleur autre coup)
offer-mates = { $moves ->
    [1] le sacrifice mate en un coup
   *[other] le sacrifice mate en { $moves } coups
}
offer-is-mated = { $moves ->
    [1] le sacrifice laisse l’adversaire mater en un coup
   *[other] le sacrifice laisse l’adversaire mater en { $moves } coups
}
offer-is-mated-like-all = { offer-is-mated }, comme tout autre coup
offer-draws = le sacrifice force la nulle
offer-gains = { $pawns ->
    [one] le sacrifice gagne { $pawns } pion, compté à { $depth } demi-coups
   *[other] le sacrifice gagne { $pawns } pions, compté à { $depth } demi-coups
}
offer-is-down = { $pawns ->
    [one] le sacrifice coûte { $pawns } pion, compté à { $depth } demi-coups
   *[other] le sacrifice coûte { $pawns } pions, compté à { $depth } demi-coups
}
offer-level = le sacrifice ne gagne ni ne perd de matériel, compté à { $depth } demi-coups
why-offer-mates = Le sacrifice mate.
why-mate = { $answer ->
    [king] Le roi prend et va en { $square } ; le mat suit en { $moves ->
        [1] un coup.
       *[other] { WORD($moves) } coups.
    }
    [accepted] Le sacrifice est accepté ; le mat suit en { $moves ->
        [1] un coup.
       *[other] { WORD($moves) } coups.
    }
   *[declined] Le sacrifice est refusé ; le mat suit en { $moves ->
        [1] un coup.
       *[other] { WORD($moves) } coups.
    }
}
why-made-good = { $answer ->
    [king] Le roi prend et va en { $square } ; le matériel est récupéré en { $moves ->
        [1] un coup.
       *[other] { WORD($moves) } coups.
    }
    [accepted] Le sacrifice est accepté ; le matériel est récupéré en { $moves ->
        [1] un coup.
       *[other] { WORD($moves) } coups.
    }
   *[declined] Le sacrifice est refusé ; le matériel est récupéré en { $moves ->
        [1] un coup.
       *[other] { WORD($moves) } coups.
    }
}
why-won-soon = { $answer ->
    [king] Le roi prend et va en { $square } ; la partie est gagnée en { $moves ->
        [1] un coup.
       *[other] { WORD($moves) } coups.
    }
    [accepted] Le sacrifice est accepté ; la partie est gagnée en { $moves ->
        [1] un coup.
       *[other] { WORD($moves) } coups.
    }
   *[declined] Le sacrifice est refusé ; la partie est gagnée en { $moves ->
        [1] un coup.
       *[other] { WORD($moves) } coups.
    }
}
why-real = { $answer ->
    [king] Le roi prend et va en { $square } ; après quatre coups il manque encore du matériel, et l’attaquant gagne tout de même.
    [accepted] Le sacrifice est accepté ; après quatre coups il manque encore du matériel, et l’attaquant gagne tout de même.
   *[declined] Le sacrifice est refusé ; après quatre coups il manque encore du matériel, et l’attaquant gagne tout de même.
}
why-won = { $answer ->
    [king] Le roi prend et va en { $square }, et l’attaquant gagne.
    [accepted] Le sacrifice est accepté, et l’attaquant gagne.
   *[declined] Le sacrifice est refusé, et l’attaquant gagne.
}
why-not-sound = { $drawn ->
    [yes] Un échec à comparer : le sacrifice n’est pas correct, et la partie est nulle.
   *[no] Un échec à comparer : le sacrifice n’est pas correct, et l’attaquant perd.
}
why-holds = { $drawn ->
    [yes] Le sacrifice vaut la nulle, et la partie est nulle.
   *[no] Le sacrifice vaut la nulle, et l’attaquant perd.
}
why-to-compare = { $drawn ->
    [yes] Une partie à comparer : elle est nulle.
   *[no] Une partie à comparer : l’attaquant perd.
}
glyph-7 = forcé
glyph-8 = le seul coup
glyph-9 = le plus mauvais coup
glyph-12 = avec du jeu
glyph-20 = sans espoir pour les noirs
glyph-21 = sans espoir pour les blancs
glyph-22 = zugzwang
glyph-32 = les blancs ont une avance de développement
glyph-33 = les noirs ont une avance de développement
glyph-36 = les blancs ont l’initiative
glyph-37 = les noirs ont l’initiative
glyph-40 = les blancs attaquent
glyph-41 = les noirs attaquent
glyph-44 = les blancs ont une compensation
glyph-45 = les noirs ont une compensation
glyph-132 = les blancs ont du contre-jeu
glyph-133 = les noirs ont du contre-jeu
glyph-136 = les blancs manquent de temps
glyph-137 = les noirs manquent de temps
glyph-138 = les blancs sont en zeitnot
glyph-139 = les noirs sont en zeitnot
lesson-asks = Trouvez ce que le camp du bas peut sacrifier pour prendre l’avantage ou, là où quelque chose est déjà sacrifié, comment continuer. Là où un coup est dessiné comme une ligne, dites s’il marche. { $rests_on }
lesson-asks-nothing = Aucun sacrifice de ces tables ne donne un exercice : pour aucun il n’a été trouvé qu’il échoue, ni qu’il marche sans que rien d’autre soit aussi bon.
solution-to = Solution de { $number }
made-from-tables = { $games ->
    [one] Fait avec hecatomb { $version } à partir de ses tables de { $games } partie. Les intervalles sont à 95 %.
   *[other] Fait avec hecatomb { $version } à partir de ses tables de { $games } parties. Les intervalles sont à 95 %.
}
footer-judged = Les mats et les échecs perpétuels sont démontrés contre toute défense ; le matériel est compté jusqu’à la profondeur indiquée. Là où un moteur ou les commentaires d’une partie jugent un sacrifice, c’est dit, et cela ne démontre rien.
footer-unjudged = Cette page montre comment les parties se sont passées, non ce qui était le meilleur.

## Courses

course-title = Sacrifices : un cours
course-says = { $lessons } à partir de { $games } : pour chaque thème, sa fréquence, son résultat, des parties à rejouer et des exercices.
chapter-bishop = Le fou
chapter-knight = Le cavalier
chapter-rook = La tour
chapter-queen = La dame
chapter-pawn = Le pion
chapter-any = N’importe quelle pièce
lesson-listed = { $games }
lesson-listed-scored = { $games }, l’attaquant a obtenu { $score } %
sheets = Feuilles
sheet-for-pupils = pour les élèves
sheet-for-teachers = pour les enseignants
sheet-for-both = avec solutions
sheet-for-projector = pour projecteur
other-pages = Autres pages de ce dossier

## First plans

plan-keep = Le plan d’un cours. Gardez, déplacez, supprimez et ajoutez ce que vous voulez, et dites ce que vous voulez dire ;
plan-then = puis `hecatomb course DIR --plan FILE` fait le cours. `hecatomb help plans` en dit plus.
plan-motif = { $offers ->
    [one] { $title } : { $offers } sacrifice dans { $games }
   *[other] { $title } : { $offers } sacrifices dans { $games }
}
plan-motif-scored = { $offers ->
    [one] { $title } : { $offers } sacrifice dans { $games } ; l’attaquant a obtenu { $score } %
   *[other] { $title } : { $offers } sacrifices dans { $games } ; l’attaquant a obtenu { $score } %
}
plan-exercise = { $question } Niveau { $level }. { $reference }
plan-weaker = Le joueur le plus faible : { $rating }.

## Motifs, by the name of the query

motif-attacked-rook-takes-minor = Une tour attaquée prend un fou ou un cavalier
motif-b-pawn-gambit = Le pion b offert sur l’aile
motif-bishop-hits-minor = Fou offert avec attaque sur un fou ou un cavalier
motif-bishop-hits-queen = Fou offert avec attaque sur la dame
motif-bishop-hits-rook = Fou offert avec attaque sur une tour
motif-bishop-sacrifice = Un fou est sacrifié
motif-bishop-takes-b5 = Le fou prend en b5 et le cavalier suit
motif-bishop-takes-e6 = Le fou prend en e6, que seul le pion f défend
motif-bishop-takes-f7 = Le fou prend en f7 et fait sortir le roi
motif-bishop-takes-g6 = Le fou prend en g6 et la dame suit
motif-bishop-takes-g7 = Le fou prend en g7 et découvre le roi
motif-bishop-takes-h6 = Le fou prend en h6 et la dame suit
motif-bishop-takes-h6-perpetual = Le fou prend en h6 pour l’échec perpétuel
motif-bishop-takes-h7 = Le fou prend le pion de la tour
motif-bishop-takes-h7-pawn-check = Le fou prend le pion de la tour, le pion h chasse le roi
motif-bishop-takes-h7-pawn-to-g6 = Le fou prend le pion de la tour, un pion s’enfonce
motif-bishop-takes-h7-quiet-offer = Le fou qui a pris le pion de la tour s’offre à côté du roi
motif-bishop-takes-h7-rook-lift = Le fou prend le pion de la tour, la tour bascule
motif-bishop-to-h6 = Fou offert en h6, devant les pions du roi
motif-c-pawn-gambit = Le pion c offert pour le pion d
motif-c-pawn-offered-to-d5 = Le pion c offert au pion d5
motif-double-bishop = Les deux fous pour les pions du roi
motif-exchange-in-ending = Sacrifice de qualité en finale
motif-exchange-in-middlegame = Qualité donnée au milieu de jeu
motif-exchange-offered-quietly = La tour se place où un fou ou un cavalier peut la prendre
motif-exchange-sacrifice = La qualité est sacrifiée
motif-f-pawn-gambit = Le pion f offert pour le pion e
motif-g-pawn-ram = Le pion g comme bélier
motif-h-pawn-ram = Le pion h comme bélier
motif-hanging-heavy-takes = Une tour ou une dame en prise prend d’abord
motif-hanging-minor-takes = Un fou ou un cavalier en prise prend d’abord
motif-in-between-capture = Prise intermédiaire, quand une pièce est à prendre
motif-in-between-check = Échec intermédiaire, et une pièce peut être prise
motif-king-hunt = Chasse au roi
motif-knight-f6-rook-edge = Cavalier en f6, tour au bord
motif-knight-follow-up = Le fou prend le pion de la tour, le cavalier suit
motif-knight-hits-minor = Cavalier offert avec attaque sur un fou ou un cavalier
motif-knight-hits-queen = Cavalier offert avec attaque sur la dame
motif-knight-hits-rook = Cavalier offert avec attaque sur une tour
motif-knight-sacrifice = Un cavalier est sacrifié
motif-knight-takes-d5 = Le cavalier prend en d5 pour deux pions et le centre
motif-knight-takes-e5-fork = Le cavalier prend en e5 et le pion d fait la fourchette
motif-knight-takes-e6 = Le cavalier prend en e6, que seul le pion f défend
motif-knight-takes-f7 = Le cavalier prend en f7 à côté du roi
motif-knight-takes-g6 = Le cavalier prend en g6 devant le roi
motif-knight-takes-g7 = Le cavalier prend en g7 à côté du roi
motif-knight-takes-h6 = Le cavalier prend en h6 devant le roi
motif-knight-to-d5 = Cavalier en d5, offert au pion e
motif-knight-to-e6 = Cavalier en e6, où un pion reprend et fait coin
motif-knight-to-f5 = Cavalier en f5, offert à un pion
motif-knight-to-f6 = Cavalier en f6, offert au pion g
motif-knight-to-g5 = Échec de cavalier en g5, offert à un pion
motif-knight-to-g6 = Échec de cavalier en g6 qui ouvre la colonne du bord
motif-knight-to-h6 = Échec de cavalier en h6, offert au pion g
motif-minor-for-pawns = Fou ou cavalier pour des pions
motif-minor-left-hits-heavy = Fou ou cavalier laissé, et une tour ou la dame est attaquée
motif-minor-left-hits-minor = Fou ou cavalier laissé, et un autre est attaqué
motif-minor-offered-to-pawn = Fou ou cavalier offert à un pion
motif-minor-piece-takes-f5 = Un cavalier ou un fou prend en f5 et déchire le front de pions
motif-minor-piece-takes-g5 = Un cavalier ou un fou prend en g5 et brise les pions
motif-minor-piece-takes-h5 = Un cavalier ou un fou prend en h5 et dépouille le roi
motif-minor-takes-pawn-beside-king = Un fou ou un cavalier prend un pion à côté du roi
motif-passed-pawn-let-through = Pièce donnée pour laisser passer un pion passé
motif-passed-pawn-offered = Pion passé offert par un coup de pion
motif-pawn-break-in-centre = Percée de pions au centre, en e4 ou d4
motif-pawn-break-in-ending = Poussée de rupture en finale
motif-pawn-break-on-kingside = Poussée de rupture à l’aile roi, en f4 ou g4
motif-pawn-break-on-queenside = Poussée de rupture à l’aile dame, en b4, b5 ou c5
motif-pawn-breakthrough = Percée : un pion est donné, un autre court
motif-pawn-check-offered = Pion offert avec échec
motif-pawn-f6-net = Pion en f6, la dame vient en g7
motif-pawn-for-pawn-in-ending = Pion pour pion en finale : un est laissé, un est attaqué
motif-pawn-for-pawn-in-middlegame = Pion pour pion au milieu de jeu : un est laissé, un est attaqué
motif-pawn-hits-minor = Pion offert avec attaque sur un fou ou un cavalier
motif-pawn-hits-queen = Pion offert avec attaque sur la dame
motif-pawn-hits-rook = Pion offert avec attaque sur une tour
motif-pawn-left-hits-minor = Pion laissé, et un fou ou un cavalier est attaqué
motif-pawn-left-hits-queen = Pion laissé, et la dame est attaquée
motif-pawn-left-hits-rook = Pion laissé, et une tour est attaquée
motif-pawn-offered-in-centre = Pion offert au centre au milieu de jeu
motif-pawn-offered-in-ending = Pion offert en finale
motif-pawn-offered-on-queenside = Pion offert à l’aile dame au milieu de jeu
motif-pawn-offered-on-sixth = Pion poussé en sixième rangée et offert
motif-pawn-promotion-offered = Le pion se promeut et est pris, et le coup suivant frappe
motif-pawn-push-hits-pawn = Pion offert au milieu de jeu, et un pion est attaqué
motif-pawn-sacrifice = Un pion est sacrifié
motif-pawn-storm-offer = Pion jeté contre le roi roqué
motif-pawn-to-d5 = Poussée de pion en d5
motif-pawn-to-d6 = Poussée de pion en d6, qui libère d5 ou enferme le défenseur
motif-pawn-to-e5 = Poussée de pion en e5
motif-pawn-to-e6 = Poussée de pion en e6
motif-pawn-to-f5 = Poussée de rupture en f5 contre le roi roqué
motif-pawn-to-f6 = Poussée de pion en f6 contre le roi
motif-perpetual-check = Pièce donnée pour l’échec perpétuel
motif-piece-against-passed-pawn = Pièce donnée pour le pion passé de l’adversaire
motif-queen-back-rank = Dame offerte sur la dernière rangée
motif-queen-decoy-double-check = La dame attire le roi dans un échec double
motif-queen-deflection-back-rank = La dame sur la dernière rangée dévie le gardien de la colonne d
motif-queen-for-fork = Dame pour une fourchette
motif-queen-for-rook = Dame donnée pour une tour
motif-queen-hits-queen = Dame offerte avec attaque sur la dame
motif-queen-left-hits-queen = Dame laissée, et la dame est attaquée
motif-queen-left-to-bishop = Le cavalier prend en e5 et laisse la dame au fou
motif-queen-lift = Le fou prend le pion de la tour, la dame va au bord
motif-queen-sacrifice = La dame est sacrifiée
motif-queen-takes-c6-crossed-bishops = La dame prend en c6, deux fous matent sur des diagonales croisées
motif-queen-takes-f6 = La dame prend en f6, tour sur la colonne g, fou sur la grande diagonale
motif-queen-takes-g8 = La dame prend la tour à côté du roi
motif-queen-takes-h6 = La dame prend en h6 et dévie le pion g
motif-queen-takes-h7 = La dame prend en h7 et fait sortir le roi
motif-queen-takes-h7-knight-e7 = La dame prend en h7, cavalier en e7, tour au bord
motif-queen-to-corner = La dame attire le roi dans le coin
motif-rook-beside-king = Tour donnée avec échec à côté du roi
motif-rook-decoy-corner = La tour attire le roi dans le coin
motif-rook-deflection-back-rank = La tour sur la dernière rangée dévie un gardien
motif-rook-for-fork = Tour pour une fourchette
motif-rook-hits-minor = Tour offerte avec attaque sur un fou ou un cavalier
motif-rook-hits-queen = Tour offerte avec attaque sur la dame
motif-rook-hits-rook = Tour offerte avec attaque sur une tour
motif-rook-left-hits-heavy = Tour laissée, et une tour ou la dame est attaquée
motif-rook-sacrifice = Une tour est sacrifiée
motif-rook-takes-bishop-e7 = Sacrifice de qualité pour le fou en e7 ou d6
motif-rook-takes-bishop-g7 = Sacrifice de qualité pour le fou en g7 ou f6
motif-rook-takes-e6 = La tour prend en e6 contre le roi au centre
motif-rook-takes-f7 = La tour prend en f7 à côté du roi
motif-rook-takes-f8 = La tour prend en f8 le dernier gardien du roi
motif-rook-takes-g6 = La tour prend en g6 devant le roi
motif-rook-takes-g7 = La tour prend en g7 à côté du roi
motif-rook-takes-g7-perpetual = La tour prend en g7 pour l’échec perpétuel
motif-rook-takes-guard-of-h7 = La tour prend le cavalier qui garde h7
motif-rook-takes-guarded-pawn = Qualité donnée pour un pion
motif-rook-takes-h6 = La tour prend en h6 et dévie le pion g
motif-rook-takes-h7 = La tour prend en h7 et fait sortir le roi
motif-rook-takes-knight-c6 = Sacrifice de qualité en c6
motif-rook-takes-knight-d3 = Sacrifice de qualité pour un cavalier en troisième rangée
motif-rook-takes-knight-f6 = Sacrifice de qualité en f6
motif-rook-takes-minor-d4 = Sacrifice de qualité au centre, en c4, d4, e4 ou f4
motif-rook-takes-minor-d5 = Sacrifice de qualité en d5
motif-rook-takes-minor-d7 = Sacrifice de qualité en d7 ou c7
motif-rook-takes-minor-e5 = Sacrifice de qualité en e5 ou c5
motif-rook-takes-minor-e6 = Sacrifice de qualité en e6
motif-rook-takes-minor-f5 = Sacrifice de qualité en f5
motif-rook-takes-minor-g5 = Sacrifice de qualité près du roi roqué, en g6, g5, g4 ou h5
motif-rook-takes-pawn-beside-king = La tour prend un pion à côté du roi, avec échec
motif-rook-to-f6 = Tour en e6 ou f6, offerte à un pion
motif-smothered-mate = Dame offerte pour le mat à l’étouffée
motif-stalemate-rescue = Sauvetage par le pat
motif-windmill = Moulinet
