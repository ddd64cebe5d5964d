# Las palabras de las páginas y hojas en español.
#
# THIS TRANSLATION WANTS A NATIVE READER: no chess trainer whose language it is has read it yet.
#
# Tratamiento: tú, como en clase. Lo que se ofrece se llama «sacrificio» desde que se ofrece; un sacrificio que es bueno
# «funciona».

## Words that are filled in

white = Blancas
    .begins = Las blancas
    .mid = las blancas
    .of = de las blancas
    .move = Juegan blancas
    .moving = juegan blancas
black = Negras
    .begins = Las negras
    .mid = las negras
    .of = de las negras
    .move = Juegan negras
    .moving = juegan negras
king = rey
    .several = reyes
queen = dama
    .several = damas
    .given = la dama
rook = torre
    .several = torres
    .given = una torre
bishop = alfil
    .several = alfiles
    .given = un alfil
knight = caballo
    .several = caballos
    .given = un caballo
pawn = peón
    .several = peones
    .given = un peón
number-0 = cero
number-1 = una
number-2 = dos
number-3 = tres
number-4 = cuatro
number-5 = cinco
number-6 = seis
number-7 = siete
number-8 = ocho
number-9 = nueve
number-10 = diez
number-11 = once
number-12 = doce

## Numbers of things

list = { $first } y { $last }
semicolon = { "; " }
games-counted = { $number ->
    [one] { $number } partida
   *[other] { $number } partidas
}
lessons-counted = { $number ->
    [one] { $number } lección
   *[other] { $number } lecciones
}
exercises-counted = { $number ->
    [one] { $number } ejercicio
   *[other] { $number } ejercicios
}
points-counted = { $number ->
    [one] { $number } punto
   *[other] { $number } puntos
}

## Kinds of sacrifice as the tables call them

kind-free = gratis
kind-desperado = desesperado
kind-sham = sacrificio aparente
kind-real = sacrificio real
kind-declined = rehusado

## All pages

skip-to-content = Ir al contenido
on-this-page = En esta página
made-by = Hecho con hecatomb { $version }.
read-as-they-are = Las tablas se leyeron tal como están (--edited): no se comprobó que nadie las haya cambiado.
only-these-kinds = Solo se cuentan los sacrificios de este tipo: { $kinds }.
only-these-kinds-by-force = Solo se cuentan los sacrificios que por fuerza son de este tipo: { $kinds }.

## Diagrams, for people who hear them

diagram = Diagrama de ajedrez
diagram-men = { $count ->
    [one] { FORM($man) } { $squares }
   *[other] { FORM($man, as: "several") } { $squares }
}
diagram-no-men = ninguna pieza
diagram-side = { FORM($side) }: { $men }
to-move = { FORM($side, as: "move") }
diagram-ringed = Con un círculo: { $squares }.
diagram-line = Una línea de { $from } a { $to }.

## Boards to step through

board-keys = Tablero; las flechas recorren las jugadas
board-plain = Tablero
board-at-move = { $move } ({ $at } de { $last })
board-at-start = El comienzo de la partida
game-after-move = Partida { $number }, después de { $move }
game-at-start = Partida { $number }, al comienzo
game-before-offer = Partida { $number }, antes del sacrificio
game-as-it-opens = Partida { $number }, primera posición

## What an exercise asks

exercises-mixed = Ejercicios de sacrificios
exercise-find = Encuentra el sacrificio
    .word = encontrar
    .asks = El bando que juega puede sacrificar algo y salir ganando. Encuentra el sacrificio y lo que sigue si se acepta y si se rehúsa.
exercise-judge = ¿Funciona?
    .word = juzgar
    .asks = La línea de cada diagrama es un sacrificio. ¿Funciona? Da una razón: las jugadas que lo hacen funcionar o la respuesta que lo refuta. Cerca de la mitad fracasan.
    .caution = Aquí un sacrificio funciona si deja mejor a su bando y ninguna otra jugada le deja claramente más; no funciona si cae en un mate o tira lo que otra jugada conserva.
exercise-continue = Aceptado: ¿y ahora?
    .word = continuar
    .asks = El sacrificio fue aceptado. Encuentra la jugada que lo justifica y lo que sigue.
exercise-defend = La mejor defensa
    .word = defender
    .asks = Algo se ofrece o se acaba de tomar. Una respuesta es claramente mejor que todas las demás. Encuéntrala: ¿hay que aceptar el sacrificio, y con qué pieza? ¿Adónde va el rey? Di qué falla en las otras.
exercise-mate = Mate en una o dos
    .word = mate
    .asks = El ataque está a punto de terminar. Encuentra el mate en el número de jugadas indicado, contra cualquier defensa.
exercise-reply = La única respuesta
    .word = respuesta
    .asks = La línea es un sacrificio que se acaba de hacer. Todas las respuestas menos una caen en un mate en el número de jugadas indicado o antes. Encuentra la que no, y di cómo se da mate a las otras.
exercise-king = Adónde no debe ir el rey
    .word = rey
    .asks = El sacrificio fue aceptado y el ataque sigue. ¿Qué jugadas del rey caen en un mate en el número de jugadas indicado o antes? Nómbralas todas, con los mates.
exercise-check = ¿Es mate?
    .word = jaque
    .asks = La línea de cada diagrama es un jaque. ¿Es mate? Si no lo es, nombra una salida. Cerca de la mitad lo son.
exercise-count = Cuenta las piezas
    .word = contar
    .asks = ¿Cuántas piezas atacan la casilla marcada con un círculo y cuántas la defienden? Cuentan los peones, el rey y las piezas clavadas. No cuenta una pieza que está detrás de otra en la misma línea.

question-find = { FORM($side, as: "move") }
    .among-others = { FORM($side, as: "move") }: encuentra el sacrificio
question-judge = ¿Funciona { $move } { FORM($side, as: "of") }?
question-continue = Después de { $moves }: { FORM($side, as: "moving") }
    .among-others = Después de { $moves }: { FORM($side, as: "moving") }. ¿Y ahora?
question-defend = Después de { $moves }: { FORM($side, as: "moving") }
    .among-others = Después de { $moves }: { FORM($side, as: "moving") }. Encuentra la mejor defensa
question-mate = { $number ->
    [1] { FORM($side, as: "move") } y dan mate en una
   *[other] { FORM($side, as: "move") } y dan mate en { WORD($number) }
}
question-reply = { $number ->
    [1] Después de { $moves }, ¿qué respuesta evita el mate en una jugada?
   *[other] Después de { $moves }, ¿qué respuesta evita el mate en { WORD($number) } jugadas?
}
question-king = { $number ->
    [1] Después de { $moves }, ¿qué jugadas del rey caen en mate en una?
   *[other] Después de { $moves }, ¿qué jugadas del rey caen en mate en { WORD($number) } o menos?
}
question-check = ¿Es mate { $move } { FORM($side, as: "of") }?
question-count = ¿Cuántas piezas { FORM($attacker, as: "of") } atacan { $square } y cuántas { FORM($defender, as: "of") } la defienden?

## Solutions

answer-works = Funciona
answer-fails = No funciona
answer-mate = Es mate
answer-no-mate = No es mate
answer-into-mate = Caen en mate
moves-come-to = { $moves }: { $says }.
also-correct = También es correcto:
aside-reply = O bien:
aside-mistake = Un error:
aside-better = Mejor:
aside-into-mate = Y:
aside-not-into-mate = No así:
comes-to-mates = { $moves ->
    [1] { FORM($side, as: "mid") } dan mate
   *[other] { FORM($side, as: "mid") } dan mate en { $moves }
}
comes-to-gains = { $pawns ->
    [1] { FORM($side, as: "mid") } quedan con un peón de más
   *[other] { FORM($side, as: "mid") } quedan con una ventaja de { $pawns } peones
}
comes-to-loses = { $pawns ->
    [1] { FORM($side, as: "mid") } quedan con un peón de menos
   *[other] { FORM($side, as: "mid") } quedan con una desventaja de { $pawns } peones
}
comes-to-level = el material queda igualado
comes-to-draw = tablas
comes-to-open = la lucha sigue
comes-to-winning = { FORM($side, as: "mid") } tienen posición ganada
comes-to-winning-by-points = { FORM($side, as: "mid") } tienen posición ganada, { $points } de 100 puntos esperados
comes-to-much-better = { FORM($side, as: "mid") } están mucho mejor, { $points } de 100 puntos esperados
comes-to-better = { FORM($side, as: "mid") } están mejor, { $points } de 100 puntos esperados
comes-to-about-even = las posibilidades están casi igualadas, { $points } de 100 puntos esperados para { FORM($side, as: "mid") }
comes-to-even = las posibilidades están igualadas
comes-to-no-mate = { $moves ->
    [1] no hay mate en una jugada
   *[other] no hay mate en { WORD($moves) } jugadas
}
comes-to-no-check = { FORM($side, as: "mid") } salen del jaque
comes-to-count = { FORM($attacker, as: "mid") } atacan { $square } con { $attackers }, { FORM($defender, as: "mid") } la defienden con { $guards }
men-counted = { $number ->
    [0] ninguna pieza ({ $squares })
    [1] una pieza ({ $squares })
   *[other] { WORD($number) } piezas ({ $squares })
}
best-play = El mejor juego, hasta donde se encontró.
features-reply = { $number ->
    [one] { $number } respuesta que mirar
   *[other] { $number } respuestas que mirar
}
features-king = { $number ->
    [one] { $number } jugada que mirar
   *[other] { $number } jugadas que mirar
}
features-check = { $number ->
    [one] { $number } casilla junto al rey que mirar
   *[other] { $number } casillas junto al rey que mirar
}
features-count = piezas que contar: { $number }
features-moves = { $number ->
    [one] { $number } jugada
   *[other] { $number } jugadas
}
features-quiet = { $number ->
    [0] ninguna tranquila
    [1] una tranquila
   *[other] { $number } tranquilas
}
features-offered = { $number ->
    [one] se ofrece { $number } peón
   *[other] se ofrecen { $number } peones
}
features-tempting = { $number ->
    [0] nada más tienta
    [1] otra jugada puede tentar
   *[other] otras { $number } jugadas pueden tentar
}
features-replies = { $number ->
    [one] { $number } respuestas por jugada
   *[other] { $number } respuestas por jugada
}

## Sheets

exercise-title = Ejercicio { $number }
level-and-points = { $points ->
    [one] Nivel { $level }, { $points } punto
   *[other] Nivel { $level }, { $points } puntos
}
solution-link = Solución{ $unseen } del ejercicio { $number }{ $unseen_end }
back-to-exercise = { $number }{ $unseen }, volver al ejercicio{ $unseen_end }
name = Nombre
date = Fecha
points-of = Puntos, de { $points }
exercises = Ejercicios
solutions = Soluciones
solutions-counted = { $number ->
    [one] { $number } solución
   *[other] { $number } soluciones
}
solution-source = { $from }. { $motif }. Nivel { $level }: { $features }.
how-these-score = Cómo resultan estos sacrificios en las partidas examinadas
game-of-file = partida { $number } de { $file }
motif-scored = { $offers ->
    [one] { $offers } sacrificio en { $games }; el atacante obtuvo el { $score } % (intervalo del 95 %: de { $lower } a { $upper }).
   *[other] { $offers } sacrificios en { $games }; el atacante obtuvo el { $score } % (intervalo del 95 %: de { $lower } a { $upper }).
}
motif-ended = { $offers ->
    [one] { $offers } sacrificio en { $games }; victorias del atacante: { $won }, tablas: { $drawn }, derrotas: { $lost }.
   *[other] { $offers } sacrificios en { $games }; victorias del atacante: { $won }, tablas: { $drawn }, derrotas: { $lost }.
}
rests-on-proofs = Los mates están demostrados contra cualquier defensa. No se preguntó a ningún motor: las demás soluciones ganan tres peones o más y dejan al atacante en ventaja, contando el material.
rests-on-engine = { $positions ->
    [one] Los mates están demostrados contra cualquier defensa; todo lo demás se consultó con { $engine }, que está de acuerdo ({ $positions } posición por respuesta).
   *[other] Los mates están demostrados contra cualquier defensa; todo lo demás se consultó con { $engine }, que está de acuerdo ({ $positions } posiciones por respuesta).
}
rests-on-rules = Los mates están demostrados contra cualquier defensa; que no lo haya en tantas jugadas se demostró probándolo todo, y lo demás son las reglas del ajedrez.
rests-on-both = { $rests_on } Ni un recuento ni un motor deciden donde la pregunta es: { $kinds }.
asked-in-pgn = Ejercicio { $number }, { $kind }: { $question } Nivel { $level } ({ $points }).
asked-in-epd = { $kind }: { $question } Nivel { $level } ({ $points }).
also-correct-since = También es correcto: { $says }.
from-in-pgn = { $motif }: { $statistics } Nivel { $level }: { $features }. De la partida { $number } de { $file }. { $caution }
from-in-csv = De { $reference }

## Projector

slide-of = { $mark }{ $number }{ $mark_end } de { $count }
back = Atrás
next = Siguiente
answer = Respuesta
clock = Reloj
back-a-move = Una jugada atrás
on-a-move = Una jugada adelante
keys-back = Flecha izquierda, Re Pág
keys-answer = Espacio, Intro
keys-next = Flecha derecha, Av Pág
keys-clock = C
projector-keys = Teclas: ← y → (o Re Pág y Av Pág) para el ejercicio anterior y el siguiente, C para el reloj.
projector-keys-with-answers = Teclas: ← y → (o Re Pág y Av Pág) para el ejercicio anterior y el siguiente, Espacio o Intro para la respuesta, ↓ y ↑ para sus jugadas, C para el reloj.

## Lessons

course-nav = Curso
all-lessons = Todas las lecciones
previous-lesson = Anterior: { $title }
next-lesson = Siguiente: { $title }
part-motif = El motivo
part-numbers = Con qué frecuencia y con qué resultado
part-numbers-title = Con qué frecuencia y con qué resultado
part-rules = Reglas prácticas
part-rules-title = Reglas prácticas, medidas
part-tree = Lo que se jugó
part-games = Partidas modelo
part-exercises = Ejercicios
part-exercises-title = ¿Qué jugarías?
query-offer = La consulta, desde el lado del atacante: { $offer }
query-when = , cuando: { $fact }
query-after = , y justo después: { $fact }
query-then = , luego: { $sequel }
query-more = ; { $fact }
query-or = { " o: " }
query-and-later = { ", y más tarde " }
query-never = nunca { $sequel }
key-diagram = Las casillas del sacrificio
key-one-ring = La línea es el sacrificio; el círculo marca su casilla.
key-rings = La línea es el sacrificio; los círculos marcan su casilla y aquellas de las que tratan las reglas prácticas y las continuaciones.
motif-is-rare = { $strong }Este motivo es raro en estas tablas.{ $strong_end } { $number ->
    [one] Contienen { $number } partida en la que se sacrificó algo.
   *[other] Contienen { $number } partidas en las que se sacrificó algo.
} Eso muestra cómo puede ir, no cómo suele ir; una colección mayor mostraría más.
made-times = En { $games } la jugada se hizo { $number ->
    [one] { $number } vez.
   *[other] { $number } veces.
}
made-times-often = En { $games } la jugada se hizo { $number ->
    [one] { $number } vez
   *[other] { $number } veces
}, es decir, { $often ->
    [one] { $often } vez
   *[other] { $often } veces
} cada { 10000 } partidas.
given-up-always = Siempre se sacrificó algo.
given-up-some = En { $number } de ellas se sacrificó algo; en adelante solo se cuentan estas.
accepted-always = El defensor siempre aceptó.
accepted-some = El defensor aceptó { $accepted } de { $answered } sacrificios.
attacker-scored = Victorias del atacante: { $won }; tablas: { $drawn }; derrotas: { $lost }; un resultado del { $strong }{ $score } %{ $strong_end }. Con este número de sacrificios, el valor real puede estar entre el { $lower } y el { $upper } %.
same-colours-scored = En todas las partidas de la colección, los mismos colores obtuvieron el { $score } %.
same-colours-scored-expected = En todas las partidas de la colección, los mismos colores obtuvieron el { $score } %; según su Elo, los atacantes deberían haber obtenido el { $expected } % ({ $rated ->
    [one] { $rated } sacrificio en una partida con Elo
   *[other] { $rated } sacrificios en partidas con Elo
}).
attacker-mated = En el { $share } % de los casos, el atacante dio mate.
half-were-over = En la mitad de los casos, la partida terminó como mucho { $moves } jugadas después del sacrificio.
no-results = Ninguna de estas partidas tiene resultado.
too-few-to-score = Victorias del atacante: { $won }; tablas: { $drawn }; derrotas: { $lost }. Menos de { $least } resultados no dicen nada sobre su rendimiento.
kinds-told = Según fueron las partidas: { $parts }.
kinds-alone = { $kind ->
    [sham] Según fueron las partidas, todos fueron sacrificios aparentes (aceptados, y en cuatro jugadas el atacante dio mate, ganó o recuperó el material).
    [real] Según fueron las partidas, todos fueron sacrificios reales (aceptados, y después de cuatro jugadas al atacante aún le faltaba material).
    [desperado] Según fueron las partidas, todos fueron desesperados (lo que se entregó estaba perdido de todos modos).
   *[declined] Según fueron las partidas, todos los sacrificios fueron rehusados.
}
kinds-alone-one = { $kind ->
    [sham] Según fue la partida, el único fue un sacrificio aparente (aceptado, y en cuatro jugadas el atacante dio mate, ganó o recuperó el material).
    [real] Según fue la partida, el único fue un sacrificio real (aceptado, y después de cuatro jugadas al atacante aún le faltaba material).
    [desperado] Según fue la partida, el único fue un desesperado (lo que se entregó estaba perdido de todos modos).
   *[declined] Según fue la partida, el único sacrificio fue rehusado.
}
kinds-number-of-these = de ellos, { $number }
kinds-part = { $kind ->
    [sham] { $games ->
        [one] { $number } fue un sacrificio aparente (aceptado, y en cuatro jugadas el atacante dio mate, ganó o recuperó el material)
       *[other] { $number } fueron sacrificios aparentes (aceptados, y en cuatro jugadas el atacante dio mate, ganó o recuperó el material)
    }
    [real] { $games ->
        [one] { $number } fue un sacrificio real (aceptado, y después de cuatro jugadas al atacante aún le faltaba material)
       *[other] { $number } fueron sacrificios reales (aceptados, y después de cuatro jugadas al atacante aún le faltaba material)
    }
    [desperado] { $games ->
        [one] { $number } fue un desesperado (lo que se entregó estaba perdido de todos modos)
       *[other] { $number } fueron desesperados (lo que se entregó estaba perdido de todos modos)
    }
   *[declined] { $games ->
        [one] { $number } fue rehusado
       *[other] { $number } fueron rehusados
    }
}
kinds-part-scored = { $part }, con un resultado del { $score } %
kinds-part-last = y { $part }
free-moves = { $number ->
    [1] Otra jugada más no entregó nada.
   *[other] Otras { $number } jugadas no entregaron nada.
}
free-moves-scored = { $number ->
    [1] Otra jugada más no entregó nada y obtuvo el { $score } %.
   *[other] Otras { $number } jugadas no entregaron nada y obtuvieron el { $score } %.
}
worth-of-these = De estos sacrificios, { $parts }.
worth-yes = { $number ->
    [one] { $number } es correcto
   *[other] { $number } son correctos
}
worth-holds = { $number ->
    [one] { $number } mantiene el equilibrio
   *[other] { $number } mantienen el equilibrio
}
worth-no = { $number ->
    [one] { $number } no es correcto
   *[other] { $number } no son correctos
}
worth-last-try = { $number ->
    [one] { $number } es un último intento en posición perdida
   *[other] { $number } son últimos intentos en posición perdida
}
worth-open = { $number ->
    [one] { $number } queda abierto
   *[other] { $number } quedan abiertos
}
verdicts-of-these = De estos veredictos, { $parts }.
verdicts-proved = { $number ->
    [one] { $number } está demostrado
   *[other] { $number } están demostrados
}
verdicts-judged = { $number ->
    [one] { $number } es de un motor
   *[other] { $number } son de un motor
}
verdicts-from-game = { $number ->
    [one] { $number } viene de evaluaciones en los comentarios de la partida
   *[other] { $number } vienen de evaluaciones en los comentarios de las partidas
}
verdicts-counted = { $number ->
    [one] { $number } se contó por el material
   *[other] { $number } se contaron por el material
}
sound-ones-scored = En la práctica, los correctos obtuvieron el { $sound } % y los que no lo son, el { $unsound } %.
plot-by-rating = Resultado del atacante en porcentaje, según el Elo
plot-by-rating-below = Elo medio, por tramos de 200
plot-by-rating-caption = Resultado del atacante según el Elo, en porcentaje. Las líneas son intervalos del 95 %; faltan los tramos con menos de { $least } resultados.
plot-by-year = Sacrificios por cada { 10000 } partidas, por año
plot-by-year-below = año
plot-by-year-caption = Cuántas veces se hizo la jugada por cada { 10000 } partidas, por año; faltan los años con menos de 100 partidas.
plot-gain = Ganancia y su intervalo
plot-value = { $name }: { $value }
plot-value-from-to = { $name }: { $value } (de { $lower } a { $upper })
plot-gain-from-to = { $value }, de { $lower } a { $upper }.
rules-measured = Cada regla es un hecho de la posición justo antes del sacrificio. La tabla da el resultado del atacante en porcentaje cuando la regla se cumple y cuando no. Los puntos muestran la ganancia y las líneas su intervalo del 95 %.
rules-unmeasured = Hay demasiado pocas partidas para medirlas: cada regla necesitaría { $least } partidas con ella y { $least } sin ella. Tómalas, pues, como cosas en que fijarse, no como hallazgos.
rules-head = Antes del sacrificio
rules-with = Con ella
rules-without = Sin ella
rules-gain = Ganancia
rule-too-few = muy pocas partidas
rule-always = aquí siempre se cumple
rule-never = aquí nunca se cumple
rule-after-offer = después del sacrificio: { $fact }
rule-hardly-chance = difícilmente azar
rule-balance = lo explica el material
rule-may-be-chance = puede ser azar
rule-games = { $with ->
    [one] ({ $with } partida con ella, { $without } sin ella)
   *[other] ({ $with } partidas con ella, { $without } sin ella)
}
rules-note = Los gráficos van de −{ $widest } a la izquierda a +{ $widest } a la derecha. { $em }Difícilmente azar{ $em_end }: el azar solo produciría una ganancia así menos de una vez de cada veinte, teniendo en cuenta el número de estas reglas. { $em }Lo explica el material{ $em_end }: entre sacrificios hechos con igual material previo queda a lo sumo la mitad de esa ganancia, y eso puede ser azar. Una regla que acompaña a buenos resultados no tiene por qué ser su causa.
rules-note-in-course = Los gráficos van de −{ $widest } a la izquierda a +{ $widest } a la derecha. { $em }Difícilmente azar{ $em_end }: el azar solo produciría una ganancia así menos de una vez de cada veinte, teniendo en cuenta el número de reglas de todas las lecciones de este curso. { $em }Lo explica el material{ $em_end }: entre sacrificios hechos con igual material previo queda a lo sumo la mitad de esa ganancia, y eso puede ser azar. Una regla que acompaña a buenos resultados no tiene por qué ser su causa.
tree-says = { $turned ->
    [as-written] Las jugadas desde el sacrificio, las más frecuentes primero, como si atacaran las blancas.
    [mirrored] Las jugadas desde el sacrificio, las más frecuentes primero, como si atacaran las blancas en el flanco de rey.
   *[shifted] Las jugadas desde el sacrificio, las más frecuentes primero, como si atacaran las blancas, y reflejadas donde el motivo lo está.
} Junto a cada jugada: el número de partidas en que se jugó y el resultado del atacante en porcentaje.
tree-move = jugada
tree-games = partidas
tree-score = resultado
tree-others = otras
tree-games-of = { $number ->
    [one] { $number }{ $heard } partida,{ $heard_end }
   *[other] { $number }{ $heard } partidas,{ $heard_end }
}
tree-score-of = { $heard }resultado { $heard_end }{ $score }
tree-note = No se da el resultado con menos de { $least } partidas terminadas.
games-say = Primero sacrificios aparentes que ganaron y cuyo precio volvió pronto, luego reales, luego rehusados y al final partidas que no se ganaron; todas vistas desde el lado del atacante.
games-step = Recórrelas con los botones, deslizando el dedo sobre el tablero o con las teclas ← → Inicio Fin cuando un tablero tiene el foco; ↑ vuelve al sacrificio.
games-chosen = Cómo se eligieron: de modo que cada una añada algo, una respuesta, un color, un nivel o un tipo. Los sacrificios aceptados van antes que los rehusados, los mates y las partidas cortas antes que las largas, y las partidas en que las jugadas concuerdan con el resultado antes que las demás. Entre iguales, la partida cuyo jugador más débil tiene más Elo.
games-chosen-judged = Cómo se eligieron: de modo que cada una añada algo, una respuesta, un color, un nivel o un tipo. Los sacrificios aceptados van antes que los rehusados, los mates y las partidas cortas antes que las largas, y las partidas en que el resultado concuerda con lo que se sabe del sacrificio o, si nada se sabe, las jugadas concuerdan con el resultado, antes que las demás. Entre iguales, la partida cuyo jugador más débil tiene más Elo.
before-the-offer = Antes del sacrificio
step-first = Inicio
step-offer = Sacrificio
step-opened = Primera posición
step-last = Final
offers-for = { $pawns ->
    [1] { FORM($side, as: "begins") } entregan { FORM($man, as: "given") } por { FORM($taken, as: "given") } (el valor de un peón).
   *[other] { FORM($side, as: "begins") } entregan { FORM($man, as: "given") } por { FORM($taken, as: "given") } (el valor de { $pawns } peones).
}
offers = { $pawns ->
    [1] { FORM($side, as: "begins") } entregan { FORM($man, as: "given") } (el valor de un peón).
   *[other] { FORM($side, as: "begins") } entregan { FORM($man, as: "given") } (el valor de { $pawns } peones).
}
offers-worth = { $pawns ->
    [1] { FORM($side, as: "begins") } entregan el valor de un peón.
   *[other] { FORM($side, as: "begins") } entregan el valor de { $pawns } peones.
}
never-more-down = { $pawns ->
    [1] { FORM($side, as: "begins") } nunca pierden más de un peón respecto a la posición anterior al sacrificio.
   *[other] { FORM($side, as: "begins") } nunca pierden más del valor de { $pawns } peones respecto a la posición anterior al sacrificio.
}
at-the-offer = En el momento del sacrificio: { $facts }.
source-game = Partida { $number } de { $file }.
with-best-play = Con el mejor juego, { $does }.
with-best-play-line = Con el mejor juego, { $does }: { $line }
in-plan-it = ; { $does }
offer-sound = el sacrificio es correcto
offer-holds = el sacrificio mantiene el equilibrio
offer-not-sound = el sacrificio no es correcto
offer-last-try = el sacrificio es un último intento en posición perdida
offer-open = el sacrificio queda sin decidir
offer-judged = { $does }, según un motor
offer-judged-points = { $does }, según un motor ({ $after } de cien puntos)
offer-judged-points-best = { $does }, según un motor ({ $after } de cien puntos, y { $best } con la mejor de las otras jugadas)
offer-from-game = { $does }, según las evaluaciones en los comentarios de la partida
offer-from-game-points = { $does }, según las evaluaciones en los comentarios de la partida ({ $after } de cien puntos)
offer-from-game-points-best = { $does }, según las evaluaciones en los comentarios de la partida ({ $after } de cien puntos, y { $best } con la mejor de las otras jugadas)
offer-mates = el sacrificio da mate en { $moves }
offer-is-mated = el sacrificio permite al rival dar mate en { $moves }
offer-is-mated-like-all = { offer-is-mated }, como cualquier otra jugada
offer-draws = el sacrificio fuerza las tablas
offer-gains = { $pawns ->
    [one] el sacrificio gana { $pawns } peón, contado a { $depth } medias jugadas
   *[other] el sacrificio gana { $pawns } peones, contado a { $depth } medias jugadas
}
offer-is-down = { $pawns ->
    [one] el sacrificio cuesta { $pawns } peón, contado a { $depth } medias jugadas
   *[other] el sacrificio cuesta { $pawns } peones, contado a { $depth } medias jugadas
}
offer-level = el sacrificio no gana ni pierde material, contado a { $depth } medias jugadas
why-offer-mates = El sacrificio da mate.
why-mate = { $answer ->
    [king] El rey toma y va a { $square }; el mate llega en { $moves ->
        [1] una jugada.
       *[other] { WORD($moves) } jugadas.
    }
    [accepted] El sacrificio es aceptado; el mate llega en { $moves ->
        [1] una jugada.
       *[other] { WORD($moves) } jugadas.
    }
   *[declined] El sacrificio es rehusado; el mate llega en { $moves ->
        [1] una jugada.
       *[other] { WORD($moves) } jugadas.
    }
}
why-made-good = { $answer ->
    [king] El rey toma y va a { $square }; el material se recupera en { $moves ->
        [1] una jugada.
       *[other] { WORD($moves) } jugadas.
    }
    [accepted] El sacrificio es aceptado; el material se recupera en { $moves ->
        [1] una jugada.
       *[other] { WORD($moves) } jugadas.
    }
   *[declined] El sacrificio es rehusado; el material se recupera en { $moves ->
        [1] una jugada.
       *[other] { WORD($moves) } jugadas.
    }
}
why-won-soon = { $answer ->
    [king] El rey toma y va a { $square }; la partida se gana en { $moves ->
        [1] una jugada.
       *[other] { WORD($moves) } jugadas.
    }
    [accepted] El sacrificio es aceptado; la partida se gana en { $moves ->
        [1] una jugada.
       *[other] { WORD($moves) } jugadas.
    }
   *[declined] El sacrificio es rehusado; la partida se gana en { $moves ->
        [1] una jugada.
       *[other] { WORD($moves) } jugadas.
    }
}
why-real = { $answer ->
    [king] El rey toma y va a { $square }; después de cuatro jugadas aún falta material, y aun así gana el atacante.
    [accepted] El sacrificio es aceptado; después de cuatro jugadas aún falta material, y aun así gana el atacante.
   *[declined] El sacrificio es rehusado; después de cuatro jugadas aún falta material, y aun así gana el atacante.
}
why-won = { $answer ->
    [king] El rey toma y va a { $square }, y gana el atacante.
    [accepted] El sacrificio es aceptado, y gana el atacante.
   *[declined] El sacrificio es rehusado, y gana el atacante.
}
why-not-sound = { $drawn ->
    [yes] Un fracaso para comparar: el sacrificio no es correcto, y la partida acaba en tablas.
   *[no] Un fracaso para comparar: el sacrificio no es correcto, y el atacante pierde.
}
why-holds = { $drawn ->
    [yes] El sacrificio vale unas tablas, y la partida acaba en tablas.
   *[no] El sacrificio vale unas tablas, y el atacante pierde.
}
why-to-compare = { $drawn ->
    [yes] Una partida para comparar: acaba en tablas.
   *[no] Una partida para comparar: el atacante pierde.
}
glyph-7 = forzada
glyph-8 = la única jugada
glyph-9 = la peor jugada
glyph-12 = con juego
glyph-20 = sin esperanza para las negras
glyph-21 = sin esperanza para las blancas
glyph-22 = zugzwang
glyph-32 = las blancas tienen ventaja de desarrollo
glyph-33 = las negras tienen ventaja de desarrollo
glyph-36 = las blancas tienen la iniciativa
glyph-37 = las negras tienen la iniciativa
glyph-40 = las blancas atacan
glyph-41 = las negras atacan
glyph-44 = las blancas tienen compensación
glyph-45 = las negras tienen compensación
glyph-132 = las blancas tienen contrajuego
glyph-133 = las negras tienen contrajuego
glyph-136 = las blancas tienen poco tiempo
glyph-137 = las negras tienen poco tiempo
glyph-138 = las blancas están en apuros de tiempo
glyph-139 = las negras están en apuros de tiempo
lesson-asks = Encuentra qué puede sacrificar el bando de abajo para salir ganando o, donde ya se sacrificó algo, cómo seguir. Donde una jugada está dibujada como línea, di si funciona. { $rests_on }
lesson-asks-nothing = Ningún sacrificio de estas tablas da un ejercicio: de ninguno se encontró que fracase, ni que funcione sin que otra cosa sea igual de buena.
solution-to = Solución de { $number }
made-from-tables = { $games ->
    [one] Hecho con hecatomb { $version } a partir de sus tablas de { $games } partida. Los intervalos son del 95 %.
   *[other] Hecho con hecatomb { $version } a partir de sus tablas de { $games } partidas. Los intervalos son del 95 %.
}
footer-judged = Los mates y los jaques perpetuos están demostrados contra cualquier defensa; el material se cuenta hasta la profundidad indicada. Donde un motor o los comentarios de una partida juzgan un sacrificio, se dice, y no demuestra nada.
footer-unjudged = Esta página muestra cómo fueron las partidas, no qué era lo mejor.

## Courses

course-title = Sacrificios: un curso
course-says = { $lessons } a partir de { $games }: de cada motivo, con qué frecuencia aparece, qué resultado da, partidas para reproducir y ejercicios.
chapter-bishop = El alfil
chapter-knight = El caballo
chapter-rook = La torre
chapter-queen = La dama
chapter-pawn = El peón
chapter-any = Cualquier pieza
lesson-listed = { $games }
lesson-listed-scored = { $games }, el atacante obtuvo el { $score } %
sheets = Hojas
sheet-for-pupils = para alumnos
sheet-for-teachers = para profesores
sheet-for-both = con soluciones
sheet-for-projector = para proyector
other-pages = Otras páginas de esta carpeta

## First plans

plan-keep = El plan de un curso. Conserva, mueve, borra y añade lo que quieras, y di lo que quieras decir;
plan-then = luego `hecatomb course DIR --plan FILE` hace el curso. `hecatomb help plans` dice más.
plan-motif = { $offers ->
    [one] { $title }: { $offers } sacrificio en { $games }
   *[other] { $title }: { $offers } sacrificios en { $games }
}
plan-motif-scored = { $offers ->
    [one] { $title }: { $offers } sacrificio en { $games }; el atacante obtuvo el { $score } %
   *[other] { $title }: { $offers } sacrificios en { $games }; el atacante obtuvo el { $score } %
}
plan-exercise = { $question } Nivel { $level }. { $reference }
plan-weaker = El jugador más débil: { $rating }.

## Motifs, by the name of the query

motif-attacked-rook-takes-minor = Torre atacada toma un alfil o un caballo
motif-b-pawn-gambit = El peón b ofrecido en el flanco
motif-bishop-hits-minor = Alfil ofrecido con ataque a un alfil o caballo
motif-bishop-hits-queen = Alfil ofrecido con ataque a la dama
motif-bishop-hits-rook = Alfil ofrecido con ataque a una torre
motif-bishop-sacrifice = Se sacrifica un alfil
motif-bishop-takes-b5 = El alfil toma en b5 y el caballo le sigue
motif-bishop-takes-e6 = El alfil toma en e6, defendido solo por el peón f
motif-bishop-takes-f7 = El alfil toma en f7 y saca al rey
motif-bishop-takes-g6 = El alfil toma en g6 y la dama le sigue
motif-bishop-takes-g7 = El alfil toma en g7 y desnuda al rey
motif-bishop-takes-h6 = El alfil toma en h6 y la dama le sigue
motif-bishop-takes-h6-perpetual = El alfil toma en h6 por el jaque perpetuo
motif-bishop-takes-h7 = El alfil toma el peón de torre
motif-bishop-takes-h7-pawn-check = El alfil toma el peón de torre, el peón h persigue al rey
motif-bishop-takes-h7-pawn-to-g6 = El alfil toma el peón de torre, un peón penetra
motif-bishop-takes-h7-quiet-offer = El alfil que tomó el peón de torre se ofrece junto al rey
motif-bishop-takes-h7-rook-lift = El alfil toma el peón de torre, la torre pasa al ataque
motif-bishop-to-h6 = Alfil ofrecido en h6, ante los peones del rey
motif-c-pawn-gambit = El peón c ofrecido por el peón d
motif-c-pawn-offered-to-d5 = El peón c ofrecido al peón de d5
motif-double-bishop = Los dos alfiles por los peones del rey
motif-exchange-in-ending = Sacrificio de calidad en el final
motif-exchange-in-middlegame = Calidad entregada en el medio juego
motif-exchange-offered-quietly = La torre se pone donde la puede tomar un alfil o un caballo
motif-exchange-sacrifice = Se sacrifica la calidad
motif-f-pawn-gambit = El peón f ofrecido por el peón e
motif-g-pawn-ram = El peón g como ariete
motif-h-pawn-ram = El peón h como ariete
motif-hanging-heavy-takes = Torre o dama colgada toma primero
motif-hanging-minor-takes = Alfil o caballo colgado toma primero
motif-in-between-capture = Captura intermedia, con una pieza por tomar
motif-in-between-check = Jaque intermedio, y se puede tomar una pieza
motif-king-hunt = Caza del rey
motif-knight-f6-rook-edge = Caballo en f6, torre en el borde
motif-knight-follow-up = El alfil toma el peón de torre, el caballo le sigue
motif-knight-hits-minor = Caballo ofrecido con ataque a un alfil o caballo
motif-knight-hits-queen = Caballo ofrecido con ataque a la dama
motif-knight-hits-rook = Caballo ofrecido con ataque a una torre
motif-knight-sacrifice = Se sacrifica un caballo
motif-knight-takes-d5 = El caballo toma en d5 por dos peones y el centro
motif-knight-takes-e5-fork = El caballo toma en e5 y el peón d hace horquilla
motif-knight-takes-e6 = El caballo toma en e6, defendido solo por el peón f
motif-knight-takes-f7 = El caballo toma en f7 junto al rey
motif-knight-takes-g6 = El caballo toma en g6 ante el rey
motif-knight-takes-g7 = El caballo toma en g7 junto al rey
motif-knight-takes-h6 = El caballo toma en h6 ante el rey
motif-knight-to-d5 = Caballo a d5, ofrecido al peón e
motif-knight-to-e6 = Caballo a e6, donde un peón retoma y queda como cuña
motif-knight-to-f5 = Caballo a f5, ofrecido a un peón
motif-knight-to-f6 = Caballo a f6, ofrecido al peón g
motif-knight-to-g5 = Jaque de caballo en g5, ofrecido a un peón
motif-knight-to-g6 = Jaque de caballo en g6 que abre la columna del borde
motif-knight-to-h6 = Jaque de caballo en h6, ofrecido al peón g
motif-minor-for-pawns = Alfil o caballo por peones
motif-minor-left-hits-heavy = Alfil o caballo dejado, y se ataca una torre o la dama
motif-minor-left-hits-minor = Alfil o caballo dejado, y se ataca otro
motif-minor-offered-to-pawn = Alfil o caballo ofrecido a un peón
motif-minor-piece-takes-f5 = Caballo o alfil toma en f5 y rompe el frente de peones
motif-minor-piece-takes-g5 = Caballo o alfil toma en g5 y rompe los peones
motif-minor-piece-takes-h5 = Caballo o alfil toma en h5 y desnuda al rey
motif-minor-takes-pawn-beside-king = Alfil o caballo toma un peón junto al rey
motif-passed-pawn-let-through = Pieza entregada para dar paso a un peón pasado
motif-passed-pawn-offered = Peón pasado ofrecido con una jugada de peón
motif-pawn-break-in-centre = Ruptura de peones en el centro, en e4 o d4
motif-pawn-break-in-ending = Ruptura de peones en el final
motif-pawn-break-on-kingside = Ruptura de peones en el flanco de rey, en f4 o g4
motif-pawn-break-on-queenside = Ruptura de peones en el flanco de dama, en b4, b5 o c5
motif-pawn-breakthrough = Ruptura: se entrega un peón y otro corre
motif-pawn-check-offered = Peón ofrecido con jaque
motif-pawn-f6-net = Peón en f6, la dama llega a g7
motif-pawn-for-pawn-in-ending = Peón por peón en el final: uno se deja, otro se ataca
motif-pawn-for-pawn-in-middlegame = Peón por peón en el medio juego: uno se deja, otro se ataca
motif-pawn-hits-minor = Peón ofrecido con ataque a un alfil o caballo
motif-pawn-hits-queen = Peón ofrecido con ataque a la dama
motif-pawn-hits-rook = Peón ofrecido con ataque a una torre
motif-pawn-left-hits-minor = Peón dejado, y se ataca un alfil o caballo
motif-pawn-left-hits-queen = Peón dejado, y se ataca la dama
motif-pawn-left-hits-rook = Peón dejado, y se ataca una torre
motif-pawn-offered-in-centre = Peón ofrecido en el centro en el medio juego
motif-pawn-offered-in-ending = Peón ofrecido en el final
motif-pawn-offered-on-queenside = Peón ofrecido en el flanco de dama en el medio juego
motif-pawn-offered-on-sixth = Peón avanzado a la sexta fila y ofrecido
motif-pawn-promotion-offered = Peón que corona y es tomado, y la siguiente jugada golpea
motif-pawn-push-hits-pawn = Peón ofrecido en el medio juego, y se ataca un peón
motif-pawn-sacrifice = Se sacrifica un peón
motif-pawn-storm-offer = Peón lanzado contra el rey enrocado
motif-pawn-to-d5 = Avance de peón a d5
motif-pawn-to-d6 = Avance de peón a d6, que libera d5 o encierra al defensor
motif-pawn-to-e5 = Avance de peón a e5
motif-pawn-to-e6 = Avance de peón a e6
motif-pawn-to-f5 = Ruptura en f5 contra el rey enrocado
motif-pawn-to-f6 = Avance de peón a f6 contra el rey
motif-perpetual-check = Pieza por jaque perpetuo
motif-piece-against-passed-pawn = Pieza por el peón pasado del otro bando
motif-queen-back-rank = Dama ofrecida en la última fila
motif-queen-decoy-double-check = La dama atrae al rey a un jaque doble
motif-queen-deflection-back-rank = La dama en la última fila desvía al defensor de la columna d
motif-queen-for-fork = Dama por una horquilla
motif-queen-for-rook = Dama por una torre
motif-queen-hits-queen = Dama ofrecida con ataque a la dama
motif-queen-left-hits-queen = Dama dejada, y se ataca la dama
motif-queen-left-to-bishop = El caballo toma en e5 y deja la dama al alfil
motif-queen-lift = El alfil toma el peón de torre, la dama va al borde
motif-queen-sacrifice = Se sacrifica la dama
motif-queen-takes-c6-crossed-bishops = La dama toma en c6, dos alfiles dan mate en diagonales cruzadas
motif-queen-takes-f6 = La dama toma en f6, torre en la columna g, alfil en la gran diagonal
motif-queen-takes-g8 = La dama toma la torre junto al rey
motif-queen-takes-h6 = La dama toma en h6 y desvía el peón g
motif-queen-takes-h7 = La dama toma en h7 y saca al rey
motif-queen-takes-h7-knight-e7 = La dama toma en h7, caballo en e7, torre en el borde
motif-queen-to-corner = La dama atrae al rey al rincón
motif-rook-beside-king = Torre entregada con jaque junto al rey
motif-rook-decoy-corner = La torre atrae al rey al rincón
motif-rook-deflection-back-rank = La torre en la última fila desvía a un defensor
motif-rook-for-fork = Torre por una horquilla
motif-rook-hits-minor = Torre ofrecida con ataque a un alfil o caballo
motif-rook-hits-queen = Torre ofrecida con ataque a la dama
motif-rook-hits-rook = Torre ofrecida con ataque a una torre
motif-rook-left-hits-heavy = Torre dejada, y se ataca una torre o la dama
motif-rook-sacrifice = Se sacrifica una torre
motif-rook-takes-bishop-e7 = Sacrificio de calidad por el alfil de e7 o d6
motif-rook-takes-bishop-g7 = Sacrificio de calidad por el alfil de g7 o f6
motif-rook-takes-e6 = La torre toma en e6 contra el rey en el centro
motif-rook-takes-f7 = La torre toma en f7 junto al rey
motif-rook-takes-f8 = La torre toma en f8 al último defensor del rey
motif-rook-takes-g6 = La torre toma en g6 ante el rey
motif-rook-takes-g7 = La torre toma en g7 junto al rey
motif-rook-takes-g7-perpetual = La torre toma en g7 por el jaque perpetuo
motif-rook-takes-guard-of-h7 = La torre toma el caballo que defiende h7
motif-rook-takes-guarded-pawn = Calidad entregada por un peón
motif-rook-takes-h6 = La torre toma en h6 y desvía el peón g
motif-rook-takes-h7 = La torre toma en h7 y saca al rey
motif-rook-takes-knight-c6 = Sacrificio de calidad en c6
motif-rook-takes-knight-d3 = Sacrificio de calidad por un caballo en la tercera fila
motif-rook-takes-knight-f6 = Sacrificio de calidad en f6
motif-rook-takes-minor-d4 = Sacrificio de calidad en el centro, en c4, d4, e4 o f4
motif-rook-takes-minor-d5 = Sacrificio de calidad en d5
motif-rook-takes-minor-d7 = Sacrificio de calidad en d7 o c7
motif-rook-takes-minor-e5 = Sacrificio de calidad en e5 o c5
motif-rook-takes-minor-e6 = Sacrificio de calidad en e6
motif-rook-takes-minor-f5 = Sacrificio de calidad en f5
motif-rook-takes-minor-g5 = Sacrificio de calidad junto al rey enrocado, en g6, g5, g4 o h5
motif-rook-takes-pawn-beside-king = La torre toma un peón junto al rey, con jaque
motif-rook-to-f6 = Torre a e6 o f6, ofrecida a un peón
motif-smothered-mate = Dama ofrecida para el mate de la coz
motif-stalemate-rescue = Salvación por ahogado
motif-windmill = Molino
