"""The words themselves that makers write above their columns, in English, German, French, Spanish, Italian and Dutch.

Common practice, no source. Small letters without accents or signs, parted by commas; a word may stand under several roles.
"""

from collections.abc import Mapping

OUTRIGHT_WORDS: Mapping[str, str] = {
    "item": """
        item, items, job, part, parts, task, what, was, component, thing, product, work package, what needs doing, to do, item name, part
        name, job name, task name, teil, bauteil, artikel, aufgabe, arbeit, arbeitsschritt, piece, article,
        tache, quoi, pieza, articulo, tarea, componente, pezzo, parte, articolo, attivita, onderdeel, taak,
        artikel naam
    """,
    "code": """
        code, id, ref, #, item no, part no, part number, job no, item number, item code, part code, nr, no,
        pos, position, line, row, artikelnummer, teilenummer, numero, reference, codigo, codice, nummer, n
    """,
    "supplier": """
        supplier, vendor, who, who makes it, company, shop, made by, firm, maker, manufacturer, subcontractor, contractor,
        source, supplier name, vendor name, by whom, done by, lieferant, zulieferer, hersteller, firma, wer,
        fournisseur, fabricant, entreprise, prestataire, qui, proveedor, fabricante, empresa, quien,
        fornitore, produttore, azienda, ditta, chi, leverancier, fabrikant, bedrijf, wie
    """,
    "country": "country, land, pays, pais, paese, nation, country code, landcode",
    "lead": """
        lead time, lt, lead, leadtime, turnaround, turnaround time, turn around, duration, delivery time,
        production time, how long, lead days, lead weeks, time needed, takes, throughput time, lieferzeit,
        durchlaufzeit, dauer, vorlaufzeit, delai, duree, delai de livraison, temps, plazo, plazo de entrega,
        duracion, tempo di consegna, tempi di consegna, durata, levertijd, doorlooptijd, duur
    """,
    "unit": "unit, lead unit, time unit, unit of time, einheit, zeiteinheit, unite, unidad, unita, eenheid",
    "after": """
        needs, depends on, after, wait, waits, wait for, waits for, prerequisite, prerequisites, before it, waiting for, waits on,
        depends, dependency, dependencies, follows, comes after, previous, preceded by, requires, wants
        first, needs first, what it needs, can t start until, cannot start until, not until, blocked by, waiting on, must wait for, nach, vorganger, wartet auf, voraussetzung, abhangig
        von, braucht, vorher, apres, depend de, attend, necessite, despues de, depende de, espera, necesita,
        dopo, dipende da, aspetta, na, wacht op, afhankelijk van, nodig
    """,
    "quantity": """
        qty, quantity, pcs, pieces, amount, no off, quant, number of pieces, how many, order qty, units,
        count, menge, anzahl, stuck, stuckzahl, stk, quantite, qte, cantidad, cant, unidades, quantita,
        pezzi, aantal, hoeveelheid, stuks
    """,
    "travel": """
        shipping, transit, travel, transport, transit time, shipping time, freight, transit days, shipping
        days, on the road, travel time, transport time, versand, transportzeit, laufzeit, expedition,
        livraison, envio, transporte, spedizione, trasporto, verzending, vervoer, carriage
    """,
    "not-before": """
        not before, earliest, earliest start, start after, no earlier than, can start, slot, fruhestens,
        nicht vor, pas avant, au plus tot, no antes de, non prima di, niet voor
    """,
    "ordered": """
        ordered, po date, order date, ordered on, date ordered, order placed, po, bestellt, bestelldatum,
        bestellt am, commande, date de commande, pedido, fecha de pedido, ordinato, data ordine, besteld,
        besteldatum
    """,
    "promised": """
        due, eta, promised, delivery date, expected, due date, promise, promise date, promised date,
        expected date, expected on, delivery, arrives, arrival, ready, ready by, date promised,
        liefertermin, termin, zugesagt, lieferdatum, erwartet, date de livraison, promis, prevu, echeance,
        fecha de entrega, prometido, previsto, vencimiento, data consegna, data di consegna, promesso,
        scadenza, leverdatum, beloofd, verwacht
    """,
    "contact": """
        contact, phone, email, e mail, telephone, tel, mobile, contact person, phone number,
        ansprechpartner, kontakt, telefon, contacto, telefono, correo, contatto, contactpersoon, telefoon
    """,
    "process": """
        process, operation type, treatment, technology, method, kind of work, verfahren, prozess, procede,
        proceso, processo, lavorazione, bewerking, proces
    """,
    "said": "quoted, as quoted, quote says, said, supplier says, they said, their words",
    "status": """
        status, state, done, finished, complete, completed, progress, arrived, received, erledigt, fertig,
        zustand, statut, avancement, fait, estado, hecho, stato, fatto, gereed, klaar, afgerond
    """,
    "note": """
        note, notes, remarks, remark, comment, comments, bemerkung, bemerkungen, kommentar, notiz,
        anmerkung, remarque, remarques, commentaire, nota, notas, comentario, comentarios, observaciones,
        commenti, osservazioni, opmerking, opmerkingen
    """,
}
"""Headings that say what the column holds, by role."""

MAYBE_WORDS: Mapping[str, str] = {
    "item": """
        name, description, step, operation, activity, work, bezeichnung, beschreibung, benennung, schritt,
        etape, designation, descripcion, paso, descrizione, fase, omschrijving, stap, naam, nom, nombre,
        nome
    """,
    "code": "number, key, short name, sku, drawing, drawing no",
    "supplier": "by, owner, responsible, from, factory, partner, workshop, where",
    "country": "region, location, place, ort, standort",
    "lead": """
        weeks, days, working days, time, wks, wd, tage, wochen, arbeitstage, jours, semaines, dias, semanas,
        giorni, settimane, dagen, weken
    """,
    "after": "first, input, inputs, before, links",
    "quantity": "sets, lot, lot size, batch, per run, ordered qty",
    "travel": "delivery, road, courier, way, to us",
    "not-before": "available from, from date",
    "ordered": "order, placed",
    "contact": "person, call, address",
    "process": "operation, step, type, kind, category, material",
    "said": "quote, angebot, offer",
    "note": "description, info, details, beschreibung",
}
"""Headings that may mean a role, where nothing says it better."""

OTHER_WORDS = """
    actual arrived balance deposit payment received
    datasheet file href link po url website
    budget color colour cost coste costo costs cout couts discount eur gbp gewicht hours hrs invoice
    kosten margin paid percent peso poids precio preis preise prezzo price prices prijs priority prix
    rate rev revision size stunden sum total usd vat version weight
"""
"""Words, parted by blanks, of columns that hold something else, such as prices: not even their values are asked."""

ONLY_ALONE = """
    complete done needs order placed progress state was
    after before by call chi first from id key line n na no nr qui quoi row sets way wer what where
    wie
"""
"""Words that say nothing of a column when others stand beside them."""

UNIT_WORDS = """
    arbeitstage calendar cd d dagen date day days dias each einheit eur from gbp giorni habiles jours lavorativi max min
    ouvres pcs pieces semaines semanas settimane stk stuck tage to unit units usd w wd week weeks weken werkdagen wks
    wochen working
"""
"""Words that below a heading only tell its unit."""
