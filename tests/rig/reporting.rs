//! The printable record in all its forms.

use std::fmt::Write as _;
use std::fs;
use std::process::Command;

use super::place::{CUT, JOB, Place, TALLY, kerfmark, text};

fn report(place: &Place, name: &str, more: &[&str]) -> (Option<i32>, Vec<u8>, String) {
    let folder = tempfile::tempdir().expect("a folder");
    let out = folder.path().join(name).to_string_lossy().into_owned();
    let path = place.root().to_string_lossy().into_owned();
    let mut arguments = vec!["report", &path, "--out", &out];
    arguments.extend(more);
    let output = kerfmark(&arguments, "");
    let bytes = fs::read(&out).unwrap_or_default();
    (output.status.code(), bytes, text(&output.stderr))
}

#[test]
fn the_same_inputs_make_the_same_bytes_in_every_form() {
    let place = Place::released();
    for name in ["a.pdf", "a.html", "a.txt", "a.csv", "a.svg"] {
        let (status, first, said) = report(&place, name, &[]);
        assert_eq!(status, Some(0), "{name}: {said}");
        assert!(first.len() > 500, "{name}");
        assert_eq!(report(&place, name, &[]).1, first, "{name}");
    }
    let dated = report(&place, "a.txt", &["--dated"]).1;
    assert!(text(&dated).contains("printed at 20"), "{}", text(&dated));
}

#[test]
fn every_page_has_the_digest_the_head_the_caution_and_its_number() {
    let place = Place::released();
    let whole = text(&report(&place, "a.txt", &[]).1);
    let pages: Vec<&str> = whole.split('\u{c}').collect();
    let figures = place.figures();
    let digest = figures["digest"].as_str().expect("a digest");
    let head = figures["journal"]["head"].as_str().expect("a head");
    for (number, page) in (1..).zip(&pages) {
        let of = format!("page {number} of {}", pages.len());
        for part in [digest, head, "Computes, does not authorise", &of] {
            assert!(page.contains(part), "{part} on page {number}: {page}");
        }
    }
    for part in [
        "SLOT A   RELEASED by NK, TM at 20",
        "DOWN from bench mark plate, U 4.5 mm",
        "A-6       S-16          top             12.350      0.100         72.850",
        "joint-run       A-1",
        "checked by RS",
        "prepared  NK      stands",
        "-checked-2.txt SHA256:",
        "job.toml",
    ] {
        assert!(whole.contains(part), "{part}: {whole}");
    }
}

#[test]
fn no_marks_are_given_of_a_planned_slot_a_stopped_one_or_one_that_is_cut() {
    let has_marks = |place: &Place| {
        let as_text = text(&report(place, "a.txt", &[]).1);
        let as_rows = text(&report(place, "a.csv", &[]).1);
        assert_eq!(
            as_text.contains("Marks, nearest first"),
            as_rows.contains(",mark,")
        );
        as_rows.contains(",mark,")
    };
    let place = Place::new();
    assert!(!has_marks(&place), "planned");
    place.run_and_land();
    assert!(has_marks(&place), "clear");
    place.enter(&[r#"{"event":"hull-moving","why":"storm"}"#]);
    assert!(!has_marks(&place), "stopped");
    place.enter(&[
        r#"{"event":"hull-position","hull":"high","rotary":"26.003 m","how":"level"}"#,
        CUT[0],
    ]);
    assert!(!has_marks(&place), "cut");
    let whole = text(&report(&place, "a.txt", &[]).1);
    assert!(
        whole.contains("CUT, NOT SURVEYED - DO NOT CUT AGAIN"),
        "{whole}"
    );
}

#[test]
fn no_file_of_the_job_is_overwritten_and_an_unknown_ending_is_refused() {
    let place = Place::new();
    let path = place.root().to_string_lossy().into_owned();
    for name in ["tallies/a.csv", "journal.txt"] {
        place.write("journal.txt", "mine");
        let before = place.read(name);
        let out = place.root().join(name).to_string_lossy().into_owned();
        let output = kerfmark(&["report", &path, "--out", &out], "");
        assert_eq!(output.status.code(), Some(2), "{name}");
        assert_eq!(place.read(name), before);
    }
    let (status, bytes, said) = report(&place, "a.docx", &[]);
    assert_eq!((status, bytes.len()), (Some(2), 0));
    assert!(
        said.contains("ends in none of .pdf, .html, .txt, .csv and .svg"),
        "{said}"
    );
    let (status, _, said) = report(&place, "a.pdf", &["--slot", "Q"]);
    assert_eq!(status, Some(2));
    assert!(said.contains("`Q` is no slot of this job"), "{said}");
}

#[test]
fn the_profile_is_to_scale() {
    let svg = text(&report(&Place::released(), "a.svg", &[]).1);
    let scale: f64 = svg
        .split("Profile, 1 : ")
        .nth(1)
        .and_then(|rest| rest.split(',').next()?.parse().ok())
        .expect("a scale");
    // The base lines of two labels of the ruler, and how far they are apart on paper.
    let y = |label: &str| -> f64 {
        let before = svg.split(&format!(">{label}<")).next().expect("the label");
        let at = before.rsplit("y=\"").next().expect("its place");
        at.split('"')
            .next()
            .and_then(|it| it.parse().ok())
            .expect("a number")
    };
    let points_to_mm = 25.4 / 72.0;
    let apart = (y("-50 m") - y("+20 m")) * points_to_mm;
    assert!(
        (apart * scale / 1000.0 - 70.0).abs() < 0.02,
        "{apart} mm at 1 : {scale}"
    );
    let header = svg.lines().next().expect("a line");
    let of = |key: &str| -> f64 {
        let rest = header.split(key).nth(1).expect(key);
        rest.split(['m', ' ', '"'])
            .next()
            .and_then(|it| it.parse().ok())
            .expect("a number")
    };
    // One unit of the drawing is a point on paper.
    let width_mm = of("width=\"");
    let units = of("viewBox=\"0 0 ");
    assert!((width_mm / units - points_to_mm).abs() < 1e-4, "{header}");
}

#[test]
fn a_long_tally_with_accents_and_long_remarks_loses_nothing() {
    let job = JOB.replace(
        "title = \"Quellon bank",
        "title = \"Québlon Ødbånk Żary Жук ½",
    );
    let place = Place::with(&job);
    let mut rows = TALLY.trim_end().to_owned();
    for number in 7..=400 {
        let _ = write!(rows, "\nA-{number},S-{number:04},joint,12.100,0.100,");
        if number % 50 == 0 {
            rows.push_str(&"a remark that goes on ".repeat(20));
        }
    }
    let rows = rows.replace("S-16,top", "S-16,joint");
    place.write("tallies/a.csv", &format!("{rows}\n"));
    place.replace("job.toml", "mudline = -30", "mudline = -5000");
    let whole = text(&report(&place, "a.txt", &[]).1);
    assert!(whole.contains("Québlon Ødbånk Żary Жук ½"));
    for line in whole.lines() {
        assert!(line.chars().count() <= 122, "{line}");
    }
    for number in 1..=400 {
        assert!(
            whole
                .lines()
                .any(|line| line.starts_with(&format!("A-{number} "))),
            "{number}"
        );
    }
    let plain = |text: &str| text.split_whitespace().collect::<String>();
    let words = plain(&whole).matches("remark").count() - plain(&whole).matches("remarks").count();
    assert!(words >= 8 * 20 - 8, "{words}");
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("a.pdf");
    let (status, pdf, said) = report(&place, "a.pdf", &[]);
    assert_eq!(status, Some(0), "{said}");
    fs::write(&file, &pdf).expect("a file");
    // The text of the PDF can be selected: another program reads it.
    match Command::new("pdftotext")
        .args(["-layout"])
        .arg(&file)
        .arg("-")
        .output()
    {
        Ok(output) => {
            let read = text(&output.stdout);
            assert!(read.contains("Québlon Ødbånk Żary Жук ½"), "{read}");
            assert!(read.matches("remark").count() >= 8 * 20 - 8);
            assert!(plain(&read).contains("A-400S-0400joint12.100"));
        }
        Err(_) => println!("LEFT OUT: there is no pdftotext here"),
    }
}

#[test]
fn the_html_has_no_script_and_leads_nowhere() {
    let job = JOB.replace("Quellon bank", "<script>alert(1)</script> & \\\"x\\\"");
    let html = text(&report(&Place::with(&job), "a.html", &[]).1);
    assert!(!html.contains("<script"), "{html}");
    assert!(html.contains("&lt;script&gt;alert(1)&lt;/script&gt; &amp; &quot;x&quot;"));
    for outside in ["href", "src=", "url(", "@import"] {
        assert!(!html.contains(outside), "{outside}");
    }
    assert_eq!(
        html.matches("http").count(),
        html.matches("http://www.w3.org/2000/svg").count()
    );
}

#[test]
fn sheets_for_the_wall_hold_what_is_needed_without_a_screen() {
    let place = Place::released();
    let card = |which: &str, name: &str| {
        let (status, bytes, said) = report(&place, name, &["--card", which]);
        assert_ne!(status, Some(2), "{which}: {said}");
        bytes
    };
    for which in ["run", "cut", "rt", "landing"] {
        for paper in ["a4", "letter"] {
            let (status, bytes, said) =
                report(&place, "a.pdf", &["--card", which, "--paper", paper]);
            assert_eq!(status, Some(0), "{which}: {said}");
            assert!(bytes.starts_with(b"%PDF"), "{which}");
        }
    }
    let run = text(&card("run", "a.txt"));
    for (number, line) in TALLY.lines().skip(1).enumerate() {
        let serial = line.split(',').nth(1).expect("a serial");
        let row = format!("[ ]  A-{}", number + 1);
        let is_row = |it: &str| it.starts_with(&row) && it.contains(serial);
        assert!(run.lines().any(is_row), "{row}: {run}");
    }
    assert!(
        run.contains("THE RUNNING JOINT: IT CARRIES THE SHOULDER"),
        "{run}"
    );
    let cut = text(&card("cut", "a.txt"));
    for part in [
        "RELEASED by NK, TM",
        "TARGET 14.000 m (45' 11 3/16\") above LAT",
        "LIFT MASS NOT KNOWN",
        "Blade set by",
    ] {
        assert!(cut.contains(part), "{part}: {cut}");
    }
    let rotary = text(&card("rt", "a.txt"));
    assert!(
        rotary.contains("RT 26.003 m (85' 3 3/4\")   IN FORCE"),
        "{rotary}"
    );
    assert!(text(&card("landing", "a.txt")).contains("STICK-UP AT LANDING 1.400 m"));
    // A slip's code changes with what it rests on.
    let code = |cut: &str| cut.split("\nslip ").nth(1).map(|it| it[..6].to_owned());
    place.enter(&[r#"{"event":"hull-moving","why":"storm"}"#]);
    let stopped = text(&card("cut", "a.txt"));
    assert_ne!(code(&cut), code(&stopped));
    assert!(
        stopped.contains("NO MARKS: nothing may be set out"),
        "{stopped}"
    );
    assert!(text(&card("rt", "a.txt")).contains("NO RT IS IN FORCE"));
    assert_eq!(report(&place, "a.csv", &["--card", "cut"]).0, Some(2));
}

/// Every number of an attribute of the drawing.
fn numbers(svg: &str, attribute: &str) -> Vec<f64> {
    svg.split(&format!(" {attribute}=\""))
        .skip(1)
        .filter_map(|rest| rest.split('"').next()?.parse().ok())
        .collect()
}

#[test]
fn the_profile_of_a_very_long_string_stays_on_its_page_and_can_be_read() {
    let job = JOB.replace("mudline = -30", "mudline = -300");
    let place = Place::with(&job);
    let mut rows = TALLY.trim_end().replace(",top,", ",joint,");
    for number in 7..=400 {
        let _ = write!(rows, "\nA-{number},S-{number:04},joint,12.100,0.100,");
    }
    place.write("tallies/a.csv", &rows);
    let svg = text(&report(&place, "a.svg", &[]).1);
    let height: f64 = svg
        .split("viewBox=\"0 0 ")
        .nth(1)
        .and_then(|rest| rest.split(['"', ' ']).nth(1)?.parse().ok())
        .expect("a height");
    for attribute in ["y", "y1", "y2"] {
        let all = numbers(&svg, attribute);
        assert!(!all.is_empty(), "{attribute}");
        for y in all {
            assert!((0.0..=height).contains(&y), "{attribute} = {y} of {height}");
        }
    }
    // Labels of the ruler, and those of water and deck, are a line apart.
    let ends = |anchor: &str| -> Vec<f64> {
        let texts = svg.split("<text ").skip(1);
        let own = texts.filter(|it| it.contains(&format!("text-anchor=\"{anchor}\"")));
        let mut all: Vec<f64> = own
            .filter_map(|it| numbers(&format!(" {it}"), "y").first().copied())
            .collect();
        all.sort_by(f64::total_cmp);
        all
    };
    let ruler = ends("end");
    assert!(ruler.len() > 5, "{ruler:?}");
    assert!(
        ruler.windows(2).all(|two| two[1] - two[0] >= 8.0),
        "{ruler:?}"
    );
}

#[test]
fn a_conductor_that_is_cut_is_drawn_up_to_its_finished_top() {
    let place = Place::signed_sample();
    let svg = text(&report(&place, "a.svg", &[]).1);
    assert!(svg.contains(">finished top 14.001<"), "{svg}");
    assert!(
        !svg.contains(">top 22.000<") && !svg.contains(">cut 14.000<"),
        "{svg}"
    );
}
