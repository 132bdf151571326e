"""Words that drafters use, by language. Each entry is common practice of the trade unless a standard is named."""

LANGUAGES = ["en", "de", "fr", "it", "es", "zh", "ja"]
COMMA = {"de", "fr", "it", "es"}

THROUGH = {
    "en": ["THRU", "THRU ALL", "THRU", "THROUGH"],
    "de": ["DURCH", "DURCHGEHEND", "durch"],
    "fr": ["DEBOUCHANT", "TRAVERSANT", "DÉBOUCHANT"],
    "it": ["PASSANTE", "PASS."],
    "es": ["PASANTE"],
    "zh": ["通孔", "贯穿", "通"],
    "ja": ["通し", "貫通"],
}
DEPTH = {
    "en": ["↧{}", "{} DEEP", "{} DP", "X {} DEEP", "DEPTH {}", "{} DEEP"],
    "de": ["TIEFE {}", "{} TIEF", "{} tief"],
    "fr": ["PROF. {}", "PROF {}", "PROFONDEUR {}"],
    "it": ["PROF. {}", "PROFONDITA {}", "PROFONDITÀ {}"],
    "es": ["PROF. {}", "PROFUNDIDAD {}"],
    "zh": ["深{}", "深度{}", "↧{}"],
    "ja": ["深さ{}", "深{}", "↧{}"],
}
# Before the size or after the count.
COUNT_BEFORE = {
    "en": ["{}X ", "{}x ", "{} X ", "{}× ", "({}) ", "{}-", "{} HOLES ", "{} OFF ", "{}X ", "{}X "],
    "de": ["{}x ", "{}× ", "{} x ", "{} Bohrungen ", "{} BOHRUNGEN "],
    "fr": ["{}x ", "{}× ", "{} TROUS "],
    "it": ["{}x ", "{}× ", "N.{} FORI ", "{} FORI "],
    "es": ["{}x ", "{}× ", "{} AGUJEROS ", "{} TALADROS "],
    "zh": ["{}-", "{}×", "{}X "],
    "ja": ["{}-", "{}×", "{}x "],
}
COUNT_AFTER = {
    "en": [" {} PLCS", " {} PL", " {} PLACES", " ({}X)", " {} HOLES", " {} OFF", ", {} PLACES"],
    "de": [" ({}x)", " {} STK", " {}x"],
    "fr": [" ({}x)", " {} TROUS"],
    "it": [" ({}x)", " {} FORI"],
    "es": [" ({}x)", " {} AGUJEROS"],
    "zh": [" {}处", " {}个"],
    "ja": [" {}箇所", " {}ヶ所"],
}
PROCESS = {
    "en": [("DRILL", "drilled"), ("PUNCH", "punched"), ("PIERCE", "punched"), ("REAM", "reamed"), ("LASER CUT", "laser"),
           ("CORED", "cored"), ("CAST", "cored"), ("EXTRUDE", "extruded"), ("PLASMA CUT", "plasma"), ("WATERJET CUT", "waterjet")],
    "de": [("BOHREN", "drilled"), ("STANZEN", "punched"), ("REIBEN", "reamed"), ("LASERN", "laser")],
    "fr": [("PERÇAGE", "drilled"), ("POINÇONNER", "punched"), ("ALESER", "reamed")],
    "it": [("FORARE", "drilled"), ("PUNZONARE", "punched"), ("ALESARE", "reamed")],
    "es": [("TALADRAR", "drilled"), ("PUNZONAR", "punched"), ("ESCARIAR", "reamed")],
    "zh": [("钻孔", "drilled"), ("冲孔", "punched"), ("铰孔", "reamed")],
    "ja": [("キリ", "drilled"), ("ドリル", "drilled"), ("リーマ", "reamed")],
}
TAP = {
    "en": ["TAP", "TAPPED", "TAP THRU"],
    "de": ["GEWINDE", "GEWINDE DURCH"],
    "fr": ["TARAUD", "TARAUDER", "TARAUDAGE"],
    "it": ["FILETTATO", "FILETTARE", "MASCHIARE"],
    "es": ["ROSCAR", "ROSCADO"],
    "zh": ["攻丝", "螺纹孔"],
    "ja": ["タップ", "ネジ"],
}
SCREW = {
    "en": ["FOR {} THREAD ROLLING SCREW", "FOR {} THD FORMING SCREW", "{} THREAD FORMING SCREW", "FOR {} TRS TYPE TT", "FOR {} THREAD CUTTING SCREW"],
    "de": ["FÜR {} GEWINDEFURCHENDE SCHRAUBE", "FUER {} DIN 7500", "{} GEWINDEFURCHEND", "FUER {} DIN 7513"],
    "fr": ["POUR VIS {} AUTOTARAUDEUSE", "POUR VIS {} DIN 7500"],
    "it": ["PER VITE {} AUTOFORMANTE", "PER VITE {} DIN 7500"],
    "es": ["PARA TORNILLO {} DIN 7500", "PARA TORNILLO {} AUTORROSCANTE"],
    "zh": ["{} 自攻螺钉", "用于{}自攻螺钉"],
    "ja": ["{} タッピンねじ用", "{} タッピングネジ"],
}
# Screws with a spaced thread for sheet metal: word and name.
SPACED = {
    "en": ["FOR {} TAPPING SCREW", "{} SELF-TAPPING SCREW"],
    "de": ["FÜR BLECHSCHRAUBE {}", "FUER {} BLECHSCHRAUBE"],
    "fr": ["POUR VIS A TOLE {}"],
    "it": ["PER VITE AUTOFILETTANTE {}"],
    "es": ["PARA TORNILLO DE CHAPA {}"],
    "zh": ["用于{}自攻螺钉"],
    "ja": ["{} タッピンねじ用"],
}
COUNTERBORE = {
    "en": ["⌴ §{d} ↧{p}", "C'BORE §{d} X {p} DEEP", "CBORE §{d} ↧{p}", "C'BORE §{d} {p} DEEP", "SPOTFACE §{d}", "S'FACE §{d} X {p} DEEP"],
    "de": ["SENKUNG §{d} TIEFE {p}", "⌴ §{d} ↧{p}", "FLACHSENKUNG §{d} {p} TIEF"],
    "fr": ["LAMAGE §{d} PROF. {p}", "⌴ §{d} ↧{p}"],
    "it": ["LAMATURA §{d} PROF. {p}", "⌴ §{d} ↧{p}"],
    "es": ["⌴ §{d} ↧{p}", "ALOJAMIENTO §{d} PROF. {p}"],
    "zh": ["沉孔 §{d} 深{p}", "凵§{d} ↧{p}"],
    "ja": ["ザグリ §{d} 深さ{p}", "深ザグリ §{d} 深さ{p}"],
}
COUNTERSINK = {
    "en": ["⌵ §{d} X {a}°", "CSK §{d} X {a}°", "C'SINK {a}° TO §{d}", "CSK {a}° X §{d}"],
    "de": ["SENKUNG {a}° §{d}", "SENKEN §{d} X {a}°", "KEGELSENKUNG §{d} X {a}°"],
    "fr": ["FRAISURE §{d} X {a}°", "FRAISAGE {a}° §{d}"],
    "it": ["SVASATURA §{d} X {a}°", "SVASATO {a}° §{d}"],
    "es": ["AVELLANADO §{d} X {a}°", "AVELLANAR {a}° §{d}"],
    "zh": ["锪锥孔 §{d}×{a}°", "沉头孔 §{d}×{a}°"],
    "ja": ["皿ザグリ §{d}×{a}°", "皿モミ §{d}×{a}°"],
}
GENERAL_NOTE = {
    "en": ["ALL HOLES {} UNLESS NOTED", "UNLESS OTHERWISE NOTED ALL HOLES {}", "ALL HOLES {} U.N.O."],
    "de": ["ALLE BOHRUNGEN {}", "ALLE NICHT BEMASSTEN BOHRUNGEN {}"],
    "fr": ["TOUS LES TROUS {} SAUF INDICATION"],
    "it": ["TUTTI I FORI {} SALVO INDICAZIONE"],
    "es": ["TODOS LOS AGUJEROS {} SALVO INDICACIÓN"],
    "zh": ["所有孔 {}", "未注孔 {}"],
    "ja": ["指示なき穴は {}", "全ての穴 {}"],
}
LABELS = {
    "en": {"material": "MATERIAL", "thickness": "THICKNESS", "scale": "SCALE", "title": "TITLE", "number": "DWG NO",
           "date": "DATE", "drawn": "DRAWN", "rev": "REV", "finish": "FINISH", "tolerance": "TOLERANCES", "units": "UNITS"},
    "de": {"material": "WERKSTOFF", "thickness": "DICKE", "scale": "MASSSTAB", "title": "BENENNUNG", "number": "ZEICHNUNGS-NR",
           "date": "DATUM", "drawn": "GEZEICHNET", "rev": "ÄNDERUNG", "finish": "OBERFLÄCHE", "tolerance": "ALLGEMEINTOLERANZ", "units": "EINHEIT"},
    "fr": {"material": "MATIERE", "thickness": "EPAISSEUR", "scale": "ECHELLE", "title": "TITRE", "number": "N° PLAN",
           "date": "DATE", "drawn": "DESSINE", "rev": "IND", "finish": "FINITION", "tolerance": "TOLERANCES GENERALES", "units": "UNITES"},
    "it": {"material": "MATERIALE", "thickness": "SPESSORE", "scale": "SCALA", "title": "TITOLO", "number": "N. DISEGNO",
           "date": "DATA", "drawn": "DISEGNATO", "rev": "REV", "finish": "FINITURA", "tolerance": "TOLLERANZE GENERALI", "units": "UNITA"},
    "es": {"material": "MATERIAL", "thickness": "ESPESOR", "scale": "ESCALA", "title": "TITULO", "number": "N. PLANO",
           "date": "FECHA", "drawn": "DIBUJADO", "rev": "REV", "finish": "ACABADO", "tolerance": "TOLERANCIAS GENERALES", "units": "UNIDADES"},
    "zh": {"material": "材料", "thickness": "厚度", "scale": "比例", "title": "名称", "number": "图号",
           "date": "日期", "drawn": "设计", "rev": "版本", "finish": "表面处理", "tolerance": "未注公差", "units": "单位"},
    "ja": {"material": "材質", "thickness": "板厚", "scale": "尺度", "title": "品名", "number": "図番",
           "date": "日付", "drawn": "製図", "rev": "改訂", "finish": "表面処理", "tolerance": "普通公差", "units": "単位"},
}
MATERIALS = {
    "en": [("CRS", "low-carbon-steel"), ("AISI 1018", "low-carbon-steel"), ("5052-H32", "aluminium-wrought"),
           ("6061-T6", "aluminium-wrought"), ("304 SST", "stainless-steel"), ("A380", "aluminium-die-cast"),
           ("BRASS C360", "brass"), ("ASTM A36", "structural-steel")],
    "de": [("DC01", "low-carbon-steel"), ("S235JR", "structural-steel"), ("1.4301", "stainless-steel"),
           ("AlMg3", "aluminium-wrought"), ("EN AW-5754", "aluminium-wrought"), ("CuZn39Pb3", "brass")],
    "fr": [("DC01", "low-carbon-steel"), ("S235", "structural-steel"), ("INOX 304L", "stainless-steel"),
           ("EN AW-5754", "aluminium-wrought")],
    "it": [("DC01", "low-carbon-steel"), ("S235JR", "structural-steel"), ("AISI 304", "stainless-steel"),
           ("AlMg3", "aluminium-wrought"), ("ZAMAK 3", "zinc-die-cast")],
    "es": [("DC01", "low-carbon-steel"), ("S235JR", "structural-steel"), ("AISI 304", "stainless-steel"),
           ("5754-H111", "aluminium-wrought")],
    "zh": [("Q235", "structural-steel"), ("SUS304", "stainless-steel"), ("SPCC", "low-carbon-steel"), ("AL5052", "aluminium-wrought")],
    "ja": [("SPCC", "low-carbon-steel"), ("SS400", "structural-steel"), ("SUS304", "stainless-steel"), ("A5052", "aluminium-wrought")],
}
THICKNESS = {
    "en": ["THK {}", "{} THK", "t={}", "t = {}", "MATERIAL THICKNESS {}", "T={}", "THICKNESS: {}"],
    "de": ["t={}", "Blech {} {u}", "BLECHDICKE {}", "DICKE {}", "Blech {} {u} {m}", "s={}"],
    "fr": ["EP {}", "Ep. {}", "ÉPAISSEUR {}", "TOLE EP {}"],
    "it": ["SPESSORE {}", "SP. {}", "LAMIERA SP. {}"],
    "es": ["ESPESOR {}", "ESP. {}", "CHAPA {} {u}"],
    "zh": ["板厚 {}", "厚度 {}", "t={}", "板厚t{}"],
    "ja": ["板厚 {}", "t{}", "t={}", "板厚: {}"],
}
UNITS = {
    "en": {"mm": ["ALL DIMENSIONS IN MM", "DIMENSIONS ARE IN MILLIMETERS", "ALL DIMS MM"],
           "in": ["ALL DIMENSIONS IN INCHES", "DIMENSIONS ARE IN INCHES", "UNLESS OTHERWISE SPECIFIED DIMENSIONS IN INCHES"]},
    "de": {"mm": ["ALLE MASSE IN MM", "Maße in mm"]},
    "fr": {"mm": ["COTES EN MM", "DIMENSIONS EN MM"]},
    "it": {"mm": ["QUOTE IN MM", "DIMENSIONI IN MM"]},
    "es": {"mm": ["COTAS EN MM", "DIMENSIONES EN MM"]},
    "zh": {"mm": ["单位: mm", "尺寸单位 mm"]},
    "ja": {"mm": ["単位: mm", "単位 mm"]},
}
SCALE_NOTE = {
    "en": "SCALE {}", "de": "MASSSTAB {}", "fr": "ECHELLE {}", "it": "SCALA {}", "es": "ESCALA {}", "zh": "比例 {}", "ja": "尺度 {}",
}
DETAIL = {"en": "DETAIL", "de": "EINZELHEIT", "fr": "DETAIL", "it": "DETTAGLIO", "es": "DETALLE", "zh": "局部放大图", "ja": "詳細"}
SECTION = {"en": "SECTION", "de": "SCHNITT", "fr": "COUPE", "it": "SEZIONE", "es": "SECCION", "zh": "剖面", "ja": "断面"}
NOTES = {
    "en": ["DEBURR ALL EDGES 0.5 MAX", "BREAK SHARP EDGES", "POWDER COAT BLACK AFTER FORMING", "DO NOT SCALE DRAWING",
           "INTERPRET DIMENSIONS PER ASME Y14.5", "MASK ALL TAPPED HOLES", "REMOVE ALL BURRS", "PART TO BE FREE OF OIL",
           "ZINC PLATE .0003 THK AFTER PUNCHING", "POWDER COAT 0.08 THK BEFORE TAPPING", "ANODIZE 25 MICRON AFTER MACHINING",
           "CUT ON MACHINE D100", "LABEL SIZE 4X", "PROGRAM D250 REV 4", "STAMP PART NO. 12-345"],
    "de": ["ALLE KANTEN ENTGRATEN", "KANTEN GEBROCHEN 0,5x45°", "PULVERBESCHICHTET RAL 7035", "Kanten nach ISO 13715", "VERZINKT 8 µm NACH DEM STANZEN", "GEWINDE VOR DEM BESCHICHTEN ABDECKEN"],
    "fr": ["EBAVURER TOUTES LES ARETES", "CASSER LES ANGLES", "PEINTURE EPOXY NOIRE", "ZINGUE 8 µm APRES PERCAGE"],
    "it": ["SBAVARE TUTTI GLI SPIGOLI", "SMUSSI NON QUOTATI 0,5x45°", "VERNICIATURA A POLVERE", "ZINCATO 8 µm DOPO FORATURA"],
    "es": ["ELIMINAR REBABAS", "MATAR ARISTAS VIVAS", "PINTURA EN POLVO", "CINCADO 8 µm DESPUES DE PUNZONAR"],
    "zh": ["去毛刺", "未注圆角R0.5", "表面喷塑", "镀锌8μm"],
    "ja": ["バリなきこと", "指示なき角部はC0.5", "面取りC0.3", "三価クロメート 8μm"],
}
HEAD = {
    "en": {"tag": ["HOLE", "TAG", "SYM", "HOLE"], "size": ["SIZE", "DIA", "DIAMETER", "HOLE DIA"], "qty": ["QTY", "QUANTITY"],
           "depth": ["DEPTH"], "thread": ["THREAD"], "words": ["DESCRIPTION"], "x": ["X", "X LOC", "XLOC"], "y": ["Y", "Y LOC", "YLOC"]},
    "de": {"tag": ["BOHRUNG", "POS", "LOCH"], "size": ["DURCHMESSER", "Ø"], "qty": ["ANZAHL", "STK"], "depth": ["TIEFE"],
           "thread": ["GEWINDE"], "words": ["BESCHREIBUNG"], "x": ["X"], "y": ["Y"]},
    "fr": {"tag": ["TROU", "REP"], "size": ["DIAMETRE", "Ø"], "qty": ["QTE", "NOMBRE"], "depth": ["PROFONDEUR"],
           "thread": ["TARAUDAGE"], "words": ["DESCRIPTION"], "x": ["X"], "y": ["Y"]},
    "it": {"tag": ["FORO"], "size": ["DIAMETRO", "Ø"], "qty": ["QTA", "QUANTITA"], "depth": ["PROFONDITA"],
           "thread": ["FILETTATURA"], "words": ["DESCRIZIONE"], "x": ["X"], "y": ["Y"]},
    "es": {"tag": ["AGUJERO", "TALADRO"], "size": ["DIAMETRO", "Ø"], "qty": ["CANTIDAD", "CANT"], "depth": ["PROFUNDIDAD"],
           "thread": ["ROSCA"], "words": ["DESCRIPCION"], "x": ["X"], "y": ["Y"]},
    "zh": {"tag": ["孔", "孔号", "标记"], "size": ["直径", "尺寸"], "qty": ["数量"], "depth": ["深度"],
           "thread": ["螺纹"], "words": ["说明"], "x": ["X"], "y": ["Y"]},
    "ja": {"tag": ["穴", "穴番", "記号"], "size": ["径", "直径"], "qty": ["数量", "個数"], "depth": ["深さ"],
           "thread": ["ネジ"], "words": ["備考"], "x": ["X"], "y": ["Y"]},
}
