### What is reckoned: bleach and water, owning or renting, how many to own.


## Bleach

# The amounts are a heading: they are read at arm's length, with gloves on.
mix-protect = {"**"}Primero:** guantes, protección para los ojos, una ventana abierta o un ventilador. **Nunca con ácidos, amoníaco ni otro limpiador: el gas es venenoso.**
mix-amounts = ## { $bleach } de cloro en agua, { $volume } en total
mix-makes = Al menos { $ppm } ppm ({ $percent } %) con cloro del { $stock } %: 1 parte de cloro y { $parts } partes de agua.
mix-in-ml = En mililitros: { $bleach } de cloro en agua, { $volume } en total.
mix-not-usual = {"**"}El cloro de la residencia suele decir { $usual } %.** Lea otra vez esta etiqueta.
mix-order = Primero casi toda el agua, fría, después el cloro, para que no salpique. Luego agua hasta la marca.
mix-label = Rotule la botella: cloro, { $ppm } ppm, hecho { $made }. **Tírelo { $until }** ({ $hours } h); fresco cada día.
mix-first = Primero agua y jabón, después enjuagar. Solo en una superficie cuyo fabricante permite cloro así de fuerte.
mix-contact-label = Manténgalo mojado el tiempo que dice la etiqueta del producto. Después enjuague bien y seque.
mix-contact-listed = Manténgalo mojado el tiempo que dice la lista de la residencia ({ $products }). Después enjuague bien y seque.
mix-contact-of = { $product }: { $minutes } min
mix-foot = Deciden la etiqueta, el fabricante y la norma de la residencia. Si huele fuerte: salga y ventile.
mix-strong = {"**"}{ $percent } % son { $ppm } ppm, { $times } veces las { $usual } ppm que son lo habitual contra esporas.** Quema la piel y los ojos y daña las fundas. ¿Quiso decir { $less } %?
button-mix-less = { $percent } % ({ $ppm } ppm)
button-mix-sure = No, { $percent } % ({ $ppm } ppm)
mix-and = { $first } y { $last }
mix-why = { $stock } % ÷ { $percent } % − 1 = { $parts } partes de agua (CDC, Best Practices for Environmental Cleaning, apéndice E; OMS 2014, anexo G). 1 % son 10,000 ppm.
    En { $volume } son { $exact } mL de cloro. Redondeado hacia arriba a lo que se puede medir, { $measured } mL dan { $made } ppm: nunca más débil de lo pedido.
    Se da por hecho que la botella tiene lo que dice su etiqueta. Una vieja o caliente tiene menos.
suggest-mix-stock = { $percent } % en la etiqueta ({ $ppm } ppm)

unit-teaspoon = { $count ->
        [one] cucharadita
       *[other] cucharaditas
    }
unit-tablespoon = { $count ->
        [one] cucharada
       *[other] cucharadas
    }
unit-ounce = { $count ->
        [one] onza
       *[other] onzas
    }
unit-cup = { $count ->
        [one] taza
       *[other] tazas
    }
unit-quart = { $count ->
        [one] cuarto
       *[other] cuartos
    }
unit-gallon = { $count ->
        [one] galón
       *[other] galones
    }

fault-mix-off = En esta residencia no se mezcla cloro. Use un producto listo de la lista de la residencia. Supervisión puede cambiarlo: `/facility policy name:bleach-mixing value:yes`
fault-mix-not-below = El agua no hace nada más fuerte: la botella tiene { $stock }, y en **target** (lo que quiere) se pide { $target }. Escriba algo más débil, por ejemplo 5000 ppm, o lea otra vez la etiqueta: el cloro doméstico dice del 5 al 9 %.
fault-mix-nearly = Lo que se pide en **target** es casi el cloro mismo: { $target } con { $stock } no deja sitio para el agua. Escriba algo más débil, por ejemplo 5000 ppm.
fault-mix-target-none = Agua sin cloro no es una mezcla: lo que quiere (**target**) tiene que ser más de 0. Escriba la concentración que necesita, por ejemplo 5000 ppm o 0.5 %.
fault-mix-stock-none = Una botella con 0 % no tiene cloro. Escriba en **stock** el porcentaje de su etiqueta, por ejemplo 8.25.
fault-mix-little = Es muy poco cloro para medirlo. Prepare más de una vez: escriba una cantidad (**volume**) mayor, por ejemplo 1 L.
fault-mix-stock = No entiendo lo que dice la etiqueta (**stock**). Escriba su porcentaje, por ejemplo 8.25.
fault-mix-stock-ppm = En **stock** va el porcentaje de la etiqueta, por ejemplo 8.25, y ninguna dice más de 100. Si son ppm, escríbalo: 52500 ppm.
fault-mix-stock-share = ¿La etiqueta dice { $percent } %? Entonces escríbalo así. Si dice { $typed } %, escriba también el signo.
fault-mix-percent = {"**"}{ $option }**: ningún porcentaje pasa de 100. Para partes por millón escriba ppm, por ejemplo 5000 ppm.
fault-mix-strong = {"**"}{ $option }** es más fuerte que el cloro que se vende para limpiar ({ $most } % como máximo). Lea otra vez la etiqueta: dice un porcentaje, por ejemplo 8.25.
fault-mix-weak = {"**"}{ $option }** es más débil de lo que calculo ({ $least } ppm como mínimo). Si era un porcentaje, escriba el signo: 0.5 %.
fault-mix-ratio = Una proporción como 1:10 significa dos cosas; por eso no la leo. Escriba el porcentaje de la etiqueta en **stock**, y en **target** lo que quiere, en ppm o porcentaje, por ejemplo 5000 ppm.
fault-mix-target = No entiendo la concentración que quiere (**target**). Escriba ppm o porcentaje, por ejemplo 5000 ppm o 0.5 %.
fault-mix-target-unit = Falta la unidad de lo que quiere (**target**). Escriba { $typed } { $unit }.
fault-mix-target-units = Falta la unidad de lo que quiere (**target**): ¿{ $typed } ppm o { $typed } %? Escriba uno de los dos.
fault-mix-volume = No entiendo la cantidad (**volume**). Escríbala con su unidad, por ejemplo 1 L, 500 mL, 1 galón o 32 oz.
fault-mix-volume-unit = ¿{ $typed } de qué? Escriba también la unidad, por ejemplo 1 L, 500 mL, 1 galón o 32 oz.
fault-mix-volume-none = Tiene que haber algo que mezclar. Escriba cuánto necesita, por ejemplo 1 L.
fault-mix-volume-much = Es más que un tambor de 200 L. Escriba lo que se mezcla de una vez, por ejemplo 5 L o 1 galón.
fault-mix-volume-thousands = ¿El signo en la cantidad (**volume**) separa miles? Escriba 1500 mL, o 1.5 L.

## Owning or renting

cost-own = Conviene tenerla propia desde **{ $from } días** de uso al año; las suyas se usaron **{ $used }**.
cost-rent = Alquilar cuesta menos por debajo de **{ $from } días** de uso al año; las suyas se usaron **{ $used }**.
cost-own-typed = Conviene tenerla propia desde **{ $from } días** de uso al año; con **{ $used }** conviene.
cost-rent-typed = Alquilar cuesta menos por debajo de **{ $from } días** de uso al año, y así es con **{ $used }**.
cost-unknown = Conviene tenerla propia desde **{ $from } días** de uso al año. Todavía no se sabe cuánto se usan las suyas: escriba `days`.
cost-never = Alquilar cuesta menos incluso todos los días del año: una propia necesitaría **{ $days }** días de uso.
cost-each = Una propia: { $own } al año. Una alquilada: { $rate } por día.
cost-year = { $days } días al año: { $rent } alquilada, { $own } propia.
cost-typed = Escrito: { $what }
cost-policy = Según las normas de la residencia: { $what }
cost-records = De su historial: { $what }
cost-beside = Sus propios datos, que aquí no se usan: { $what }
cost-price = precio { $price }
cost-salvage = al final vale { $salvage }
cost-years = dura { $years } años
cost-interest = interés { $interest } % al año
cost-upkeep = mantenimiento { $upkeep } al año
cost-rental = alquiler { $rate } por día
cost-rental-of = alquiler { $rate } por día ({ $count ->
        [one] 1 alquiler
       *[other] el del medio de { $count } alquileres
    }{ $kind })
cost-of-kind = { "" }, solo { $kind }
cost-used = uso { $days } días al año
cost-used-of = uso { $days } días al año (de los últimos { $known } días: { $count ->
        [one] 1 superficie fue propia
       *[other] { $count } superficies fueron propias
    } en algún momento{ $part }; hoy { $own }. Contando cada día de cada una, fueron propias { $had } días)
cost-used-part = , { $count } de ellas no todo el tiempo
cost-not-policy = No se usa: los { $set } por día de la norma rental-day. Cuenta antes lo que paga por sus alquileres; para probar otra cifra escriba `rental`.
cost-no-upkeep = No incluye reparaciones, fundas, filtros ni pruebas. Escriba `upkeep`, o fije la norma own-upkeep.
cost-too-little = { $known ->
        [one] Solo hay 1 día anotado
       *[other] Solo hay { $known } días anotados
    }, y hacen falta { $enough } para decir cuánto se usan las suyas.
cost-table-head = Días de uso desde los que conviene tenerla propia, si uno de estos fuera un quinto menos o más:
cost-less = menos
cost-more = más
cost-cell-never = nunca
input-price = precio
input-salvage = valor final
input-years = años
input-interest = interés
input-upkeep = mantenimiento
input-rental = alquiler/día
cost-foot = Una referencia antes de impuestos y sin el tiempo del personal. Decide quien compra.
cost-why = Una propia al año: ({ $price } − { $salvage }) × { $factor } + { $salvage } × { $interest } % + { $upkeep } = **{ $own }**. { $factor } es lo que cada año devuelve de 1 al { $interest } % en { $years } años (la serie uniforme de los textos de ingeniería económica). { $own } ÷ { $rate } por día = **{ $days } días**.
cost-why-used = Uso: en los últimos { $known } días enteros tuvo { $count ->
        [one] 1 superficie propia
       *[other] { $count } superficies propias
    } en algún momento, y hoy tiene { $own }. Contando cada día de cada una, fueron propias { $had } días, y { $used } de ellos bajo una cama: { $year } días al año cada una. Cada una salió de su cama { $turns } veces al año.
cost-why-part = { $count ->
        [one] 1 de ellas llegó o se fue en ese tiempo y cuenta por sus días en el registro.
       *[other] { $count } de ellas llegaron o se fueron en ese tiempo y cuentan por sus días en el registro.
    }
cost-why-mean = En promedio estuvieron bajo una cama { $under } de { $had }.
cost-why-taken = Se da por hecho: el mismo mantenimiento cada año, un alquiler que se cobra solo por los días bajo una cama y un proveedor que tiene una cuando hace falta.

fault-amount = No entiendo **{ $option }**. Escriba una cantidad de dinero, por ejemplo { $example }.
fault-amount-negative = {"**"}{ $option }** no puede ser menos que nada. Escriba una cantidad, por ejemplo { $example }.
fault-amount-comma = ¿El signo en **{ $option }** separa miles? Escriba 4200, o 38.50 con punto y dos cifras.
fault-amount-much = {"**"}{ $option }** es más de { $most }. Escriba lo que cuesta una superficie, por ejemplo { $example }.
fault-salvage = {"**"}salvage** es más que el precio de { $price }. Escriba lo que todavía vale al final de su vida, o no lo escriba.
fault-rental-free = Un alquiler que no cuesta nada no hay que calcularlo. Escriba lo que cuesta un día, por ejemplo 38.50.
fault-no-rental = No está anotado lo que cuesta alquilar, o no para esta clase. Escríbalo en `rental`, por ejemplo 38.50, o fije la norma rental-day.
fault-interest-share = ¿Es { $percent } % al año? Entonces escríbalo así. Si es { $typed } %, escriba también el signo.
fault-share = ¿Es { $percent } %? Entonces escríbalo así. Si es { $typed } %, escriba también el signo.
fault-figure = No entiendo **{ $option }**. Escriba un número, por ejemplo { $example }.
fault-figure-negative = {"**"}{ $option }** no puede ser menos que nada. Escriba un número, por ejemplo { $example }.
fault-figure-thousands = ¿El signo en **{ $option }** separa miles? Escriba 1500, o 1.5.
fault-figure-range = {"**"}{ $option }** tiene que ser de { $least } a { $most }. Escriba por ejemplo { $example }.

## How many to own

size-need = { $count ->
        [one] {"**"}1 superficie** cumple lo prometido
       *[other] {"**"}{ $count } superficies** cumplen lo prometido
    }: cuando hace falta una, no hay ninguna lista en { $promise } casos como máximo. Propias tiene **{ $own }**.
size-range = **Entre { $low } y { $high } superficies** cumplen la promesa según lo anotado, lo más probable { $count }: cuando hace falta una, no hay ninguna lista en { $promise } casos como máximo. Propias tiene **{ $own }**.
size-sure = Todo lo que está anotado dice { $count }.
size-now = Con sus { $own } no hay ninguna lista en { $share } casos.
size-now-out = Con sus { $own } no hay ninguna lista en { $share } casos; con las { $working } que funcionan ahora, en { $less }.
size-rented = { $count ->
        [one] Además hay 1 alquilada ahora.
       *[other] Además hay { $count } alquiladas ahora.
    }
size-table-head = Superficies propias, y en cuántos casos no hay ninguna lista:
size-row-need = alcanza
size-row-own = suyas
size-row-both = suyas, bastan
size-row-under = < 1 de cada 1,000
size-from-records = De su propio historial: en promedio hubo { $load } en uso en los últimos { $known } días. Para probar otros números escriba `admissions`, `stay` o `shortfall`.
size-from-both = De lo que escribió ({ $typed }), y para lo demás de su propio historial de { $known } días.
size-typed-admissions = { $day } al día necesitan una, que son { $week } a la semana
size-typed-stay = cada una { $days } días
size-from-typed = De lo que escribió: { $typed }. Sin eso se usa su propio historial.
size-foot = Una referencia. La residencia decide qué promete y a quién ayuda de otro modo mientras tanto.
share-one-in = 1 de cada { $count }
share-in-hundred = { $count } de cada 100
share-in-ten = { $count } de cada 10
share-under = menos de 1 de cada 1,000
share-all = más de 9 de cada 10
size-why-load = Si siempre hubiera una, habría en uso **{ $load }** en promedio.
size-why-load-range = Si siempre hubiera una, habría en uso **{ $load }** en promedio (seguro en 95 de 100: de { $low } a { $high }).
size-why-in-use = Su historial de { $known } días enteros: en promedio { $own } propias bajo una cama, { $rented } alquiladas, { $turning } en su puesta a punto.
size-why-sure = Lo seguro que es tiene en cuenta que los días se parecen, porque quien tiene una hoy la tiene mañana: un uso dura unos { $stay } días, y en ese tiempo terminaron { $ended }.
size-why-records = De { $requests } colocaciones y { $ended } usos que terminaron en { $known } días; un uso dura { $stay } días, con su puesta a punto.
size-why-admissions = Escrito: { $count } por día necesitan una.
size-why-stay = Escrito: se necesita una durante { $days } días.
size-why-beds = La fórmula de Engset, porque solo { $beds } camas pueden pedir y cada una pide solo mientras no tiene ninguna.
size-why-beds-turning = La fórmula de Engset, porque solo sus { $beds } camas pueden pedir y cada una pide solo mientras no tiene ninguna. Cuentan como { $asking }: mientras una superficie está en su puesta a punto, la cama de la que salió puede pedir otra (cerca de { $more } a la vez).
size-why-open = La fórmula de pérdida de Erlang, porque quienes pueden pedir son muchos al lado de quienes tienen una.
size-why-taken = Se da por hecho: la gente llega sin depender una de otra, a quien no encuentra ninguna se le ayuda de otro modo, los días de puesta a punto cuentan como uso y los de reparación no, y quien no encontró ninguna antes solo está anotado si se alquiló una.

fault-size-too-little = Hay muy poco anotado: { $known ->
        [one] 1 día
       *[other] { $known } días
    } y { $ended ->
        [one] 1 uso que terminó
       *[other] { $ended } usos que terminaron
    }, de { $days } días y { $stays } usos como mínimo. Escriba las dos cosas: `admissions`, por ejemplo 3 por semana, y `stay`, por ejemplo 40 días.
fault-size-fills = Eso tendría { $load } en uso a la vez y llenaría las { $beds } camas que pueden pedir una: revise las cifras.
fault-size-beds-used = **beds**: { $used } superficies están ahora en camas, así que { $beds } camas no pueden ser todas las que pedirían una. Escriba { $used } o más, o no lo escriba: entonces valen las camas de su residencia.
fault-size-home = **admissions** y **stay**: juntas tendrían { $load } superficies en uso a la vez, y su residencia tiene { $beds } camas. Escriba menos `admissions` o un `stay` más corto, o en `beds` cuántas camas podrían pedir una.
fault-size-load = Serían más de 1,000 superficies en uso a la vez. Escriba menos `admissions` o un `stay` más corto.
