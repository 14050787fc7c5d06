//! Letters of the simple fonts: base encodings (ISO 32000-1, annex D) and names of glyphs.

/// Codes 128 to 159 of `WinAnsiEncoding`; 160 and up are those of Latin-1.
const WIN_UPPER: &str = "€\0‚ƒ„…†‡ˆ‰Š‹Œ\0Ž\0\0‘’“”•–—˜™š›œ\0žŸ";

/// Codes 128 to 255 of `MacRomanEncoding`.
const MAC_UPPER: &str = "ÄÅÇÉÑÖÜáàâäãåçéèêëíìîïñóòôöõúùûü†°¢£§•¶ß®©™´¨≠ÆØ∞±≤≥¥µ∂∑∏π∫ªºΩæø¿¡¬√ƒ≈∆«»… ÀÃÕŒœ–—“”‘’÷◊ÿŸ⁄€‹›ﬁﬂ‡·‚„‰ÂÊÁËÈÍÎÏÌÓÔ\0ÒÚÛÙıˆ˜¯˘˙˚¸˝˛ˇ";

/// Codes 160 to 255 of `StandardEncoding`.
const STANDARD_UPPER: &str = "\0¡¢£⁄¥ƒ§¤'“«‹›\0\0\0–†‡·\0¶•‚„”»…‰\0¿\0`´ˆ˜¯˘˙¨\0˚¸\0˝˛ˇ—\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0Æ\0ª\0\0\0\0ŁØŒº\0\0\0\0\0æ\0\0\0ı\0\0łøœß\0\0\0\0";

/// Names and letters in turn, as far as Latin, Greek and Cyrillic letters and common signs go; single Latin letters name themselves.
/// Source: Adobe Glyph List, version 2.0.
const GLYPHS: &str = "\
    exclam ! quotedbl \" numbersign # dollar $ percent % ampersand & quotesingle ' parenleft ( parenright ) asterisk * plus + \
    comma , hyphen - period . slash / zero 0 one 1 two 2 three 3 four 4 five 5 six 6 seven 7 eight 8 nine 9 colon : semicolon ; \
    less < equal = greater > question ? at @ bracketleft [ backslash \\ bracketright ] asciicircum ^ underscore _ grave ` \
    braceleft { bar | braceright } asciitilde ~ exclamdown ¡ cent ¢ sterling £ currency ¤ yen ¥ brokenbar ¦ section § dieresis ¨ \
    copyright © ordfeminine ª guillemotleft « logicalnot ¬ registered ® macron ¯ degree ° plusminus ± acute ´ mu µ paragraph ¶ \
    periodcentered · cedilla ¸ ordmasculine º guillemotright » onequarter ¼ onehalf ½ threequarters ¾ questiondown ¿ Agrave À \
    Aacute Á Acircumflex Â Atilde Ã Adieresis Ä Aring Å AE Æ Ccedilla Ç Egrave È Eacute É Ecircumflex Ê Edieresis Ë Igrave Ì \
    Iacute Í Icircumflex Î Idieresis Ï Eth Ð Ntilde Ñ Ograve Ò Oacute Ó Ocircumflex Ô Otilde Õ Odieresis Ö multiply × Oslash Ø \
    Ugrave Ù Uacute Ú Ucircumflex Û Udieresis Ü Yacute Ý Thorn Þ germandbls ß agrave à aacute á acircumflex â atilde ã adieresis \
    ä aring å ae æ ccedilla ç egrave è eacute é ecircumflex ê edieresis ë igrave ì iacute í icircumflex î idieresis ï eth ð \
    ntilde ñ ograve ò oacute ó ocircumflex ô otilde õ odieresis ö divide ÷ oslash ø ugrave ù uacute ú ucircumflex û udieresis ü \
    yacute ý thorn þ ydieresis ÿ Amacron Ā amacron ā Abreve Ă abreve ă Aogonek Ą aogonek ą Cacute Ć cacute ć Ccircumflex Ĉ \
    ccircumflex ĉ Cdotaccent Ċ cdotaccent ċ Ccaron Č ccaron č Dcaron Ď dcaron ď Dcroat Đ dcroat đ Emacron Ē emacron ē Ebreve Ĕ \
    ebreve ĕ Edotaccent Ė edotaccent ė Eogonek Ę eogonek ę Ecaron Ě ecaron ě Gcircumflex Ĝ gcircumflex ĝ Gbreve Ğ gbreve ğ \
    Gdotaccent Ġ gdotaccent ġ Hcircumflex Ĥ hcircumflex ĥ Hbar Ħ hbar ħ Itilde Ĩ itilde ĩ Imacron Ī imacron ī Ibreve Ĭ ibreve ĭ \
    Iogonek Į iogonek į Idotaccent İ dotlessi ı IJ Ĳ ij ĳ Jcircumflex Ĵ jcircumflex ĵ kgreenlandic ĸ Lacute Ĺ lacute ĺ Lcaron Ľ \
    lcaron ľ Ldot Ŀ ldot ŀ Lslash Ł lslash ł Nacute Ń nacute ń Ncaron Ň ncaron ň napostrophe ŉ Eng Ŋ eng ŋ Omacron Ō omacron ō \
    Obreve Ŏ obreve ŏ Ohungarumlaut Ő ohungarumlaut ő OE Œ oe œ Racute Ŕ racute ŕ Rcaron Ř rcaron ř Sacute Ś sacute ś Scircumflex \
    Ŝ scircumflex ŝ Scedilla Ş scedilla ş Scaron Š scaron š Tcaron Ť tcaron ť Tbar Ŧ tbar ŧ Utilde Ũ utilde ũ Umacron Ū umacron ū \
    Ubreve Ŭ ubreve ŭ Uring Ů uring ů Uhungarumlaut Ű uhungarumlaut ű Uogonek Ų uogonek ų Wcircumflex Ŵ wcircumflex ŵ Ycircumflex \
    Ŷ ycircumflex ŷ Ydieresis Ÿ Zacute Ź zacute ź Zdotaccent Ż zdotaccent ż Zcaron Ž zcaron ž longs ſ florin ƒ Scommaaccent Ș \
    scommaaccent ș circumflex ˆ caron ˇ breve ˘ dotaccent ˙ ring ˚ ogonek ˛ tilde ˜ hungarumlaut ˝ tonos ΄ dieresistonos ΅ \
    Alphatonos Ά anoteleia · Epsilontonos Έ Etatonos Ή Iotatonos Ί Omicrontonos Ό Upsilontonos Ύ Omegatonos Ώ iotadieresistonos ΐ \
    Alpha Α Beta Β Gamma Γ Epsilon Ε Zeta Ζ Eta Η Theta Θ Iota Ι Kappa Κ Lambda Λ Mu Μ Nu Ν Xi Ξ Omicron Ο Pi Π Rho Ρ Sigma Σ Tau \
    Τ Upsilon Υ Phi Φ Chi Χ Psi Ψ Iotadieresis Ϊ Upsilondieresis Ϋ alphatonos ά epsilontonos έ etatonos ή iotatonos ί \
    upsilondieresistonos ΰ alpha α beta β gamma γ delta δ epsilon ε zeta ζ eta η theta θ iota ι kappa κ lambda λ nu ν xi ξ \
    omicron ο pi π rho ρ sigma1 ς sigma σ tau τ upsilon υ phi φ chi χ psi ψ omega ω iotadieresis ϊ upsilondieresis ϋ omicrontonos \
    ό upsilontonos ύ omegatonos ώ afii10023 Ё afii10051 Ђ afii10052 Ѓ afii10053 Є afii10054 Ѕ afii10055 І afii10056 Ї afii10057 Ј \
    afii10058 Љ afii10059 Њ afii10060 Ћ afii10061 Ќ afii10062 Ў afii10145 Џ afii10017 А afii10018 Б afii10019 В afii10020 Г \
    afii10021 Д afii10022 Е afii10024 Ж afii10025 З afii10026 И afii10027 Й afii10028 К afii10029 Л afii10030 М afii10031 Н \
    afii10032 О afii10033 П afii10034 Р afii10035 С afii10036 Т afii10037 У afii10038 Ф afii10039 Х afii10040 Ц afii10041 Ч \
    afii10042 Ш afii10043 Щ afii10044 Ъ afii10045 Ы afii10046 Ь afii10047 Э afii10048 Ю afii10049 Я afii10065 а afii10066 б \
    afii10067 в afii10068 г afii10069 д afii10070 е afii10072 ж afii10073 з afii10074 и afii10075 й afii10076 к afii10077 л \
    afii10078 м afii10079 н afii10080 о afii10081 п afii10082 р afii10083 с afii10084 т afii10085 у afii10086 ф afii10087 х \
    afii10088 ц afii10089 ч afii10090 ш afii10091 щ afii10092 ъ afii10093 ы afii10094 ь afii10095 э afii10096 ю afii10097 я \
    afii10071 ё afii10099 ђ afii10100 ѓ afii10101 є afii10102 ѕ afii10103 і afii10104 ї afii10105 ј afii10106 љ afii10107 њ \
    afii10108 ћ afii10109 ќ afii10050 Ґ afii10098 ґ endash – emdash — afii00208 ― underscoredbl ‗ quoteleft ‘ quoteright ’ \
    quotesinglbase ‚ quotereversed ‛ quotedblleft “ quotedblright ” quotedblbase „ dagger † daggerdbl ‡ bullet • onedotenleader ․ \
    twodotenleader ‥ ellipsis … perthousand ‰ minute ′ second ″ guilsinglleft ‹ \
    guilsinglright › exclamdbl ‼ fraction ⁄ Euro € trademark ™ Omega Ω partialdiff ∂ Delta ∆ product ∏ summation ∑ minus − \
    radical √ infinity ∞ integral ∫ approxequal ≈ notequal ≠ lessequal ≤ greaterequal ≥ lozenge ◊ arrowleft ← arrowup ↑ \
    arrowright → arrowdown ↓ oneeighth ⅛ threeeighths ⅜ fiveeighths ⅝ seveneighths ⅞ onethird ⅓ twothirds ⅔";

/// An encoding that a font may start from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::pdf) enum Base {
    WinAnsi,
    MacRoman,
    Standard,
}

impl Base {
    pub(super) fn named(name: &str) -> Option<Self> {
        match name {
            "WinAnsiEncoding" => Some(Self::WinAnsi),
            "MacRomanEncoding" => Some(Self::MacRoman),
            "StandardEncoding" => Some(Self::Standard),
            _ => None,
        }
    }

    /// The letter of a code; none when there is none.
    pub(in crate::pdf) fn letter(self, code: u8) -> Option<char> {
        let upper = |letters: &str, first: u8| {
            let at = usize::from(code.checked_sub(first)?);
            letters.chars().nth(at).filter(|letter| *letter != '\0')
        };
        match (self, code) {
            (Self::Standard, 0x27) => Some('’'),
            (Self::Standard, 0x60) => Some('‘'),
            (_, 0x20..=0x7E) => Some(code as char),
            (Self::WinAnsi, 0x80..0xA0) => upper(WIN_UPPER, 0x80),
            (Self::WinAnsi, 0xA0..) => Some(code as char),
            (Self::MacRoman, 0x80..) => upper(MAC_UPPER, 0x80),
            (Self::Standard, 0xA0..) => upper(STANDARD_UPPER, 0xA0),
            _ => None,
        }
    }
}

/// What a glyph of this name shows: `A`, `adieresis`, `uni20AC`, `u1F600`; a part after a full stop tells a variant.
pub(super) fn glyph(name: &str) -> Option<String> {
    let name = name.split('.').next().filter(|stem| !stem.is_empty())?;
    let mut letters = name.chars();
    if let (Some(letter), None) = (letters.next(), letters.next())
        && letter.is_ascii_alphabetic()
    {
        return Some(letter.to_string());
    }
    match name {
        "space" | "nbspace" | "nonbreakingspace" => return Some(" ".to_owned()),
        "fi" | "fl" | "ff" | "ffi" | "ffl" => return Some(name.to_owned()),
        _ => {}
    }
    let mut known = GLYPHS.split_whitespace();
    while let (Some(known_name), Some(letter)) = (known.next(), known.next()) {
        if known_name == name {
            return Some(letter.to_owned());
        }
    }
    let code = name.strip_prefix("uni").filter(|code| code.len() == 4).or_else(|| {
        let code = name.strip_prefix('u')?;
        (4..=6).contains(&code.len()).then_some(code)
    })?;
    Some(char::from_u32(u32::from_str_radix(code, 16).ok()?)?.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn codes_and_names_give_letters() {
        assert_eq!(Base::WinAnsi.letter(0x80), Some('€'));
        assert_eq!(Base::WinAnsi.letter(0xE4), Some('ä'));
        assert_eq!(Base::WinAnsi.letter(0x81), None);
        assert_eq!(Base::MacRoman.letter(0x8A), Some('ä'));
        assert_eq!(Base::MacRoman.letter(0xFF), Some('ˇ'));
        assert_eq!(Base::Standard.letter(0xFB), Some('ß'));
        assert_eq!(Base::Standard.letter(0xA1), Some('¡'));
        for (name, letter) in [
            ("A", "A"),
            ("one", "1"),
            ("adieresis", "ä"),
            ("fi", "fi"),
            ("uni20AC", "€"),
            ("u1F600", "😀"),
            ("a.alt", "a"),
            ("bullet", "•"),
            ("afii10017", "А"),
        ] {
            assert_eq!(glyph(name).as_deref(), Some(letter), "{name}");
        }
        assert_eq!(glyph("g123"), None);
        assert_eq!(glyph(".notdef"), None);
    }
}
