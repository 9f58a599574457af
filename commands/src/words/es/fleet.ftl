### The register: adding, listing, importing, exporting, retiring; what is wrong with a file.

fleet-added-ready = **{ $tag }** está en el inventario, perfil { $profile }, y lista. Enfermería la pone en una cama con `/place`.
fleet-added-untested = **{ $tag }** está en el inventario, perfil { $profile }, y lista. Antes de que enfermería la coloque, mantenimiento anota su prueba de seguridad: `/service`
fleet-added-rented = **{ $tag }** está en el inventario, perfil { $profile }. Sigue, cuando llegue: `/rental start surface:{ $tag }`, y su revisión de llegada.
fleet-added-soiled = **{ $tag }** está en el inventario, perfil { $profile }, y sucia. Sigue: `/clean` con el motivo entre residentes, y después cada paso.
fleet-retired = **{ $tag }** está dada de baja. Su historial se conserva.
retire-ask = **¿Dar de baja { $tag }?** (perfil { $profile }, { $state }, sin nadie encima.) Sale de todas las listas, y su etiqueta no se usa para otra. Su historial se conserva.
retire-ask-alarm = Su alarma termina con esto.
retire-ask-rental = Es de alquiler, y se paga hasta que el proveedor lo sepa: primero `/rental stop surface:{ $tag }`.
retire-ask-foot = ¿Solo fuera de servicio por ahora? Entonces `/pull`.
retire-changed = Se anotó algo de ella desde entonces. Mire otra vez:
button-retire = Dar de baja { $tag }
retired-ask = **{ $tag }** se dio de baja { $since }, y su historial queda con esa etiqueta. ¿Es esa misma superficie? Tráigala de vuelta. ¿Es otra? Póngale otra etiqueta, como { $tag }-2.
retired-ask-supervisor = **{ $tag }** se dio de baja { $since }, y su historial queda con esa etiqueta. ¿Es esa misma superficie? Supervisión la trae de vuelta con el mismo comando. ¿Es otra? Póngale otra etiqueta, como { $tag }-2.
button-bring-back = Traer de vuelta { $tag }
form-bring-back-title = Traer de vuelta { $tag }
form-bring-back = Por qué
form-bring-back-hint = por ejemplo: baja por error
fault-back-already = { $tag } ya está en el inventario. No se anotó nada.
fault-back-reason = Diga por qué vuelve, por ejemplo "baja por error". No se anotó nada.
brought-back = **{ $tag }** está otra vez en el inventario, con su historial, como sucia: se limpia y se revisa antes de que nadie se acueste. Sigue: `/clean` con el motivo entre residentes.
brought-back-recalled = **{ $tag }** está otra vez en el inventario, con su historial. **Es de una retirada del mercado y está fuera de servicio.** Vea `/recall`.
fleet-exported = El inventario, { $count ->
        [one] 1 superficie
       *[other] { $count } superficies
    }. El archivo puede tener números de serie: no lo saque de la residencia.
profiles-exported = Los perfiles, { $count ->
        [one] 1 fila
       *[other] { $count } filas
    }. Puede cambiarlos y volver a leerlos con `/fleet import`.

fleet-head = { $count ->
        [one] **1 superficie**
       *[other] **{ $count } superficies**
    } · { $placed } en camas · { $ready } listas · { $soiled } sucias · { $out } fuera de servicio
fleet-line = - { $surface } · { $profile } · { $state }
fleet-more = …y { $count } más. `/fleet export` las tiene todas.

state-placed = colocada
state-soiled = sucia
state-ready = lista
state-out = fuera de servicio
state-retired = dada de baja
state-held = retenida

## Importing

import-profiles = perfiles
import-beds = camas
import-surfaces = superficies
import-done = Leído: { $what }, { $count ->
        [one] 1 fila
       *[other] { $count } filas
    }.
import-unrated = **Alquiladas, y no consta lo que cuesta un día:** { $tags }. Dígalo con `/rental start`; hasta entonces no se calcula ningún costo de ellas.
import-extra = No se leyeron estas columnas, porque no las conozco: { $columns }
import-placed = { $count ->
        [one] Una de ellas está en una cama
       *[other] { $count } de ellas están en camas
    }, como dice el archivo. De ellas no consta aquí instalación, limpieza ni comprobación: enfermería las mira ahora una por una.
told-imported-placed = { $who } trajo al inventario superficies que están en camas ({ $count }): { $tags }
    De ellas no consta aquí instalación, limpieza ni comprobación: enfermería las mira una por una.
import-refused = No se leyó nada. Corrija { $count ->
        [one] esto
       *[other] estas { $count } cosas
    } y mande otra vez el archivo entero:
import-line = - Línea { $line }: { $fault }
import-more-faults = …y { $count } más.

csv-empty = El archivo está vacío. Su primera línea debe nombrar las columnas, por ejemplo tag,profile
csv-no-rows = El archivo tiene títulos y ninguna fila debajo.
csv-too-many-rows = El archivo tiene demasiadas filas. Divídalo en archivos de { $most } filas como máximo.
csv-not-utf8 = No entiendo estas letras. Guarde el archivo como "CSV UTF-8" y mándelo otra vez.
csv-workbook = Este es un archivo propio de una hoja de cálculo (como .xlsx), no CSV. En la hoja de cálculo elija "Guardar como", luego "CSV UTF-8", y envíe ese archivo.
csv-missing-column = Falta la columna { $column }. Agréguela a la primera línea.
csv-missing-column-near = Falta la columna { $column }. ¿Es "{ $near }"? Cámbiele el nombre en la primera línea.
csv-absent-column = El archivo no tiene la columna { $column }, y cada superficie sin cama la necesita (la primera: línea { $line }). Añádala a la primera línea y escriba en ella: { $words }
csv-column-twice = La columna { $column } está dos veces. Deje una.
csv-cell-count = Aquí hay { $found ->
        [one] 1 celda
       *[other] { $found } celdas
    }, pero { $expected } en la primera línea. Busque una coma de más o de menos.
csv-break-in-cell = Un salto de línea dentro de una celda. Muchas veces falta cerrar unas comillas.
csv-blank = { $column } está en blanco. Complétela.
csv-not-one-of = { $column }: no conozco esta palabra ahí. Escriba: { $words }
csv-not-a-number = { $column } debe ser un número, por ejemplo 30.
csv-not-a-load = { $column } debe ser una carga, por ejemplo 600 (libras), 600 lb o 272 kg.
csv-out-of-range = { $column } debe ir de { $least } a { $most }.
csv-not-a-date = { $column } debe ser una fecha como 2026-03-08.
csv-bad-name = { $column }: use letras, cifras, espacios y guiones, como máximo { $most } caracteres.
csv-bad-settings = settings: escriba libras y ajuste en pares, con las libras en aumento, por ejemplo 120:1;160:2
csv-bad-band = low_in y high_in: ponga los dos o ninguno, primero el bajo y al menos 0.5, por ejemplo 1 y 1.5
csv-filter-days = filter_check_days es más largo que filter_max_days. Un filtro se mira antes de su límite.
csv-soiled-under-bed = Una superficie sucia no puede estar en una cama. Deje la cama vacía, o escriba ready.
csv-twice = { $column }: lo mismo que en la línea { $line }. Cada uno puede estar una vez.
csv-reserved = El perfil { $name } viene incluido. Póngale otro nombre al suyo.
csv-nurse-must-place = bed: aquí ya hay superficies debajo de residentes, así que esta la coloca enfermería con `/place`. Deje bed vacío.
csv-too-many-to-ask = Más de { $most } cambios de este archivo esperan a supervisión, que lee cada uno. Divida el archivo.
csv-private = { $column } parece tener { $what }. Sáquelo: el inventario trata de camas y superficies, no de personas.
csv-date-ahead = { $column } todavía no llega. Escriba el día en que se hizo, o déjelo vacío.
csv-serial-taken = serial: { $tag } ya tiene este número. Corríjalo o saque la fila.
csv-tag-retired = { $tag } se dio de baja y conserva su historial. ¿La misma superficie? Tráigala de vuelta abajo y saque la fila. ¿Otra? Póngale otra etiqueta.
csv-bed-elsewhere = la cama { $bed } es de { $unit }. Saque la fila, o tráigala antes: `/facility unit name:{ $to } beds:{ $beds } take:yes`
csv-tag-taken = { $tag } ya está en el inventario. Saque la fila, o use otra etiqueta.
csv-no-such = { $column }: no lo conozco. Léalo antes de otro archivo, o corríjalo.
csv-no-such-near = { $column }: no lo conozco. ¿Quiso decir { $near }?
