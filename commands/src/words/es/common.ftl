### Words that several sentences share: roles, how a surface is named, readings, buttons, forms and menus.
###
### Glossary: one Spanish word for one thing, in every file of this folder. Plain Spanish of care homes in the United
### States and Latin America, with "usted" or impersonal. No native reader has been through it yet.
###
###   surface superficie · control unit unidad de control, never "unidad" alone · unit (of the home) unidad · home residencia
###   tag etiqueta · profile perfil · register inventario · log historial · to record anotar · card ficha · due pendiente
###   hand check comprobación a mano · air under the person aire debajo de la persona · reading lectura · round ronda
###   adequate adecuado · low bajo · high alto · bottomed out toca fondo · could not check no se pudo comprobar
###   to call (loftwatch) avisar · to call (by voice) llamar · ladder escala de avisos · alarm alarma · fixed resuelto
###   placed colocada, en la cama · to release quitar (de la cama) · soiled sucia · ready lista · retired dada de baja
###   turnover puesta a punto · set-up instalación · spare de repuesto · held retenida · recall retiro del mercado
###   aide auxiliar · nurse enfermería · supervisor supervisión · upkeep mantenimiento · admin administración
###   resident residente, or la persona · care plan plan de cuidados · maker fabricante · vendor proveedor · policy norma
###   plug enchufe · wall outlet toma de pared · extension cord extensión · cord cable · hose manguera · CPR valve válvula de RCP
###   cover funda · filter filtro · rails barandillas · frame armazón · gap hueco · setting ajuste · leak fuga
###   power failure corte de luz · power corriente · roll recuento · flat desinflada · leave ausencia · shift turno
###   handover relevo · bleach cloro (lejía) · sporicidal esporicida · contact time tiempo de contacto · pickup recogida
###   to take back deshacer · to tap tocar · to type escribir · safety test prueba de seguridad · stock existencias
###   post publicación · sign-off autorización · to let in dar entrada · second look segunda mirada · agency agencia · on duty a cargo
###   entry anotación · remark comentario · to countersign dar el visto bueno
###
### Inches keep their symbol "in", and decimals their point, as on the home's tools.

# A surface as the people of its home read it.
# In place of an answer that the whole channel would see, and that names a bed.
answer-hidden = Quedó anotado. Lo que sigue nombra una cama y aquí no se muestra: vea `/surface` o `/due`.
surface-with-bed = { $tag } (cama { $bed })

which-bed = **{ $tag }** está debajo de la cama { $bed }, { $unit }.
which-beds = **Sin corriente en { $unit }** desde las { $at }
which-beds-left = Sin ver en este recuento: { $these }
which-beds-seen = Vistas: { $these }

## Roles

role-admin = administración
role-upkeep = mantenimiento
role-aide = auxiliar
role-nurse = enfermería
role-supervisor = supervisión

## Readings

air-under = menos de { $low }
air-over = más de { $high }
air-touching = sin aire
air-none = ninguno
air-within = bien a la vista y al tacto
band = adecuado: de { $low } a { $high }

judged-adequate = adecuado
judged-low = bajo
judged-bottomed-out = toca fondo
judged-high = alto
judged-could-not = sin comprobar

## Why a check could not be made

why-asleep = dormía
why-refused = no quiso
why-out = fuera de la cama
why-isolation = aislamiento
why-other = otro motivo

## Buttons

button-take = Ya voy
button-safe = Residente a salvo
button-fixed = Resuelto
button-cannot-go = No puedo ir
button-not-safe = No está a salvo: error
button-which-bed = ¿Qué cama?
button-which-beds = ¿Qué camas?
button-bed = { $tag } ({ $bed })
button-of = { $name }: { $label }
button-measured-again = Sí, medido otra vez
button-pull = Fuera de servicio
button-take-back = Deshacer
button-why = ¿Por qué?
button-type = Escribirlo
button-skip = Saltar
button-touching = Toca fondo
button-under = Menos de { $low }
button-over = Más de { $high }
button-within = Se ve y se siente bien
button-feels-low = Se siente baja
button-feels-high = Demasiado firme
button-start-round = Ronda { $unit }
button-go-on = Seguir con la ronda
button-go-again = Recorrer lo que falta
button-filter-clean = Filtro limpio
button-filter-replaced = Filtro sucio, cambiado
button-filter-rinsed = Filtro sucio, enjuagado
button-function = Marcha, llena, sin alarma
button-agree = De acuerdo
button-decline = No aceptar
button-agree-to = De acuerdo: { $what }
button-decline-of = No aceptar: { $what }
button-withdraw = Retirar el pedido
button-withdraw-of = Retirar: { $what }

## Menus

menu-could-not = No se pudo comprobar, porque…
menu-kind = ¿Qué dice la alarma?
menu-cause = ¿Cuál fue la causa?
menu-pick = Atender uno de estos
menu-pick-some = Atender uno de estos ({ $some } de { $all })
menu-pages = Abrir una página
menu-help = Más de lo que puede hacer

## Forms

form-air-title = Aire debajo de la persona: { $tag }
form-air = Aire debajo de la persona
form-air-hint = 1 1/4, 3/4", 3 cm, o ninguno si no se pudo comprobar
form-note = Nota (sin nombres)
form-note-hint = Solo sobre la superficie: sin nombre, sin peso, sin diagnóstico

## Pages

# Read out before a table of a page.
page-table = Una tabla; muévala de lado si es más ancha que la pantalla
