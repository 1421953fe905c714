//! QR codes of the page, read with a decoder that is not ours, and the recipe in them.

use loftwire_page_tests::browser::Browser;
use loftwire_page_tests::built::{address, jobs, root};
use serde_json::json;
use std::fs;

/// Largest version of a code of a recipe: its modules are still wide enough on paper.
const MOST_VERSION: u64 = 20;
/// Pixels of a module in the picture that the decoder gets.
const SCALE: usize = 4;
/// Modules of light around a code.
const QUIET: usize = 4;

/// Texts of modules of the page that stand without others, as one script: what is exported can be called.
fn modules(names: &[&str]) -> String {
    let text = |name: &&str| fs::read_to_string(root().join("www/app").join(name)).expect("the module is there");
    let lines: Vec<String> = names.iter().map(text).collect();
    let kept = lines.iter().flat_map(|text| text.lines()).filter(|line| !line.starts_with("import "));
    kept.map(|line| line.strip_prefix("export ").unwrap_or(line)).collect::<Vec<_>>().join("\n")
}

/// Text and version of a code, by its modules row by row.
fn decoded(side: usize, dark: &str) -> Option<(String, usize)> {
    let row = (side + 2 * QUIET) * SCALE;
    let cells: Vec<bool> = dark.bytes().map(|cell| cell == b'1').collect();
    let at = |x: usize, y: usize| {
        let (x, y) = ((x / SCALE).checked_sub(QUIET)?, (y / SCALE).checked_sub(QUIET)?);
        if x < side { cells.get(y * side + x).copied() } else { None }
    };
    let mut picture =
        rqrr::PreparedImage::prepare_from_greyscale(row, row, |x, y| if at(x, y) == Some(true) { 0 } else { 255 });
    let grids = picture.detect_grids();
    let (meta, text) = grids.first()?.decode().ok()?;
    Some((text, meta.version.0))
}

/// Source: ISO/IEC 18004, table 7: a version holds as much as the standard says, and every version can be read.
#[test]
fn codes_of_every_version_are_read_by_another_decoder() {
    let browser = Browser::with_page((400, 400), "about:blank");
    let script = modules(&["qr.js"]);
    for version in 1..=40 {
        let body = format!(
            "{script}
             const room = qrRoom(given), letters = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:';
             let text = '';
             for (let place = 0; text.length < room; place += 1) text += letters[(place * place * 7 + place * 3 + given) % 34 + 10];
             const code = qrCode(text);
             return {{ text, version: code.version, size: code.size, mask: code.mask, dark: code.modules.join('') }};"
        );
        let code = browser.run_async(&body, &json!(version));
        assert_eq!(code["version"], json!(version), "a full version {version} is that version");
        let side = code["size"].as_u64().and_then(|side| usize::try_from(side).ok()).expect("it has a side");
        let read = decoded(side, code["dark"].as_str().expect("it has modules"));
        let (text, seen) = read.unwrap_or_else(|| panic!("version {version}, mask {} is not read", code["mask"]));
        assert_eq!((text.as_str(), seen as u64), (code["text"].as_str().expect("it has a text"), version));
    }
}

/// Modes, and a text in two of them.
#[test]
fn digits_and_any_letters_are_read_too() {
    let browser = Browser::with_page((400, 400), "about:blank");
    let script = modules(&["qr.js"]);
    let digits = "31415926535897932384626433832795".repeat(8);
    for text in ["7", "HELLO 45", "µm, °C, ±, 界", &digits, &format!("https://example.org/line/#code={digits}")] {
        let body =
            format!("{script} const code = qrCode(given); return {{ size: code.size, dark: code.modules.join('') }};");
        let code = browser.run_async(&body, &json!(text));
        let side = code["size"].as_u64().and_then(|side| usize::try_from(side).ok()).expect("it has a side");
        let read = decoded(side, code["dark"].as_str().expect("it has modules")).map(|(read, _)| read);
        assert_eq!(read.as_deref(), Some(text));
    }
}

/// Source: RFC 9285, section 4.3 and 4.4.
#[test]
fn base45_is_that_of_the_standard() {
    let browser = Browser::with_page((400, 400), "about:blank");
    let script = modules(&["link.js", "code.js"]);
    for (plain, coded) in [("AB", "BB8"), ("Hello!!", "%69 VD92EX0"), ("base-45", "UJCLQE7W581"), ("ietf!", "QED8WEX0")]
    {
        let body = format!(
            "{script} return [toBase45(new TextEncoder().encode(given.plain)), new TextDecoder().decode(fromBase45(given.coded))];"
        );
        assert_eq!(browser.run_async(&body, &json!({ "plain": plain, "coded": coded })), json!([coded, plain]));
    }
    let body = format!(
        "{script} return given.map((text) => {{ try {{ fromBase45(text); return 'taken'; }} catch {{ return 'refused'; }} }});"
    );
    let refused = browser.run_async(&body, &json!(["GGW", "ZZZ", "a", "A", "::"]));
    assert_eq!(refused, json!(["refused", "refused", "refused", "refused", "refused"]));
}

/// Every job comes back from its codes, its digits and its link as it went in, titles with odd characters too.
#[test]
fn a_job_comes_back_from_its_codes_as_it_went_in() {
    let browser = Browser::with_page((400, 400), "about:blank");
    let script = modules(&["link.js", "code.js", "qr.js"]);
    // The fields stay in the order of the file, which is that of the core's writing.
    let body = format!(
        "{script}
         const job = JSON.parse(given.text);
         if (given.title) job.title = given.title;
         const text = JSON.stringify(job);
         const codes = await jobToCodes(text, qrRoom({MOST_VERSION}));
         const back = await jobFromCodes([...codes].reverse());
         const digits = await codeFragmentText(await jobCodeFragment(text));
         const link = await fragmentText(await jobFragment(job));
         const same = {{ back, digits, link }};
         return {{ lost: Object.keys(same).filter((way) => JSON.stringify(JSON.parse(same[way])) !== text), versions: codes.map((code) => qrCode(code).version) }};"
    );
    for path in jobs() {
        let text = fs::read_to_string(&path).expect("a job can be read");
        for title in ["", "\u{7f} \u{1} \"stages[\" ,\"share\": </script> 線 \\u0001"] {
            let answer = browser.run_async(&body, &json!({ "text": text, "title": title }));
            assert_eq!(answer["lost"], json!([]), "{} with title {title:?}", path.display());
            let versions = answer["versions"].as_array().expect("there are codes");
            let fits = versions.iter().all(|version| version.as_u64() <= Some(MOST_VERSION));
            assert!(versions.len() == 1 && fits, "{}: {versions:?}", path.display());
        }
    }
}

/// What the page shows is read by the other decoder, and the page takes it back.
#[test]
fn the_code_on_the_page_carries_the_recipe() {
    let browser = Browser::with_page((1280, 800), &address());
    browser.note_errors();
    browser.reload();
    browser.until("document.body.dataset.at");
    share(&browser);
    let word = "document.querySelector('.share .note b').textContent";
    let before = browser.value(word);
    let code = browser.value(
        "(() => {
            const svg = document.querySelector('.qr');
            const side = svg.viewBox.baseVal.width - 8, dark = new Uint8Array(side * side);
            for (const [, x, y, run] of svg.querySelector('path').getAttribute('d').matchAll(/M(\\d+) (\\d+)h(\\d+)/g))
              for (let step = 0; step < Number(run); step += 1) dark[Number(y) * side + Number(x) + step] = 1;
            return { side, module: svg.getBoundingClientRect().width / (side + 8), dark: dark.join(''), light: getComputedStyle(svg.querySelector('rect')).fill };
        })()",
    );
    let side = code["side"].as_u64().expect("it has a side");
    assert!(side <= 17 + 4 * MOST_VERSION, "{side} modules");
    assert!(code["module"].as_f64() >= Some(3.0), "{} px a module", code["module"]);
    assert_eq!(code["light"], json!("rgb(255, 255, 255)"));
    let side = usize::try_from(side).expect("a side is small");
    let (text, version) = decoded(side, code["dark"].as_str().expect("it has modules")).expect("it is read");
    assert!(version as u64 <= MOST_VERSION, "version {version}");

    let plus = "[...document.querySelectorAll('#panel .panel-set button')].find((button) => button.textContent.trim() === '+')";
    browser.run_script("document.querySelector('#panel .close').click()", vec![]);
    browser.run_script(&format!("{plus}.click()"), vec![]);
    share(&browser);
    browser.until(&format!("{word} !== {before}"));
    browser.run_script("document.querySelector('#share-paste').value = arguments[0]", vec![json!(text)]);
    let take =
        "[...document.querySelectorAll('.share button')].find((button) => button.textContent === 'Take it').click()";
    browser.run_script(take, vec![]);
    browser.until("document.body.dataset.panel === ''");
    share(&browser);
    browser.until(&format!("{word} === {before}"));
    assert_eq!(browser.errors(), json!([]));
}

/// Opens Share.
fn share(browser: &Browser) {
    let button =
        "[...document.querySelectorAll('#top button')].find((button) => button.textContent.trim() === 'Share').click()";
    browser.run_script(button, vec![]);
    browser.until("document.querySelector('.panel-share .qr')");
}
