//! Words that people act on can be read: their contrast on their ground, in the palettes of terminals.

use kerfmark::screens::{Role, Theme};
use ratatui::style::{Color, Modifier};

/// The sixteen colours of a terminal, as red, green and blue.
type Palette = [(u8, u8, u8); 16];

/// Palettes as terminals ship them (from memory): the text mode of VGA, xterm, and the console of a desktop
/// system.
const PALETTES: [(&str, Palette); 3] = [
    (
        "VGA",
        [
            (0, 0, 0),
            (170, 0, 0),
            (0, 170, 0),
            (170, 85, 0),
            (0, 0, 170),
            (170, 0, 170),
            (0, 170, 170),
            (170, 170, 170),
            (85, 85, 85),
            (255, 85, 85),
            (85, 255, 85),
            (255, 255, 85),
            (85, 85, 255),
            (255, 85, 255),
            (85, 255, 255),
            (255, 255, 255),
        ],
    ),
    (
        "xterm",
        [
            (0, 0, 0),
            (205, 0, 0),
            (0, 205, 0),
            (205, 205, 0),
            (0, 0, 238),
            (205, 0, 205),
            (0, 205, 205),
            (229, 229, 229),
            (127, 127, 127),
            (255, 0, 0),
            (0, 255, 0),
            (255, 255, 0),
            (92, 92, 255),
            (255, 0, 255),
            (0, 255, 255),
            (255, 255, 255),
        ],
    ),
    (
        "console",
        [
            (12, 12, 12),
            (197, 15, 31),
            (19, 161, 14),
            (193, 156, 0),
            (0, 55, 218),
            (136, 23, 152),
            (58, 150, 221),
            (204, 204, 204),
            (118, 118, 118),
            (231, 72, 86),
            (22, 198, 12),
            (249, 241, 165),
            (59, 120, 255),
            (180, 0, 158),
            (97, 214, 214),
            (242, 242, 242),
        ],
    ),
];

fn place(colour: Color) -> Option<usize> {
    let order = [
        Color::Black,
        Color::Red,
        Color::Green,
        Color::Yellow,
        Color::Blue,
        Color::Magenta,
        Color::Cyan,
        Color::Gray,
        Color::DarkGray,
        Color::LightRed,
        Color::LightGreen,
        Color::LightYellow,
        Color::LightBlue,
        Color::LightMagenta,
        Color::LightCyan,
        Color::White,
    ];
    order.iter().position(|it| *it == colour)
}

/// Relative luminance (WCAG 2.1).
fn luminance((red, green, blue): (u8, u8, u8)) -> f64 {
    let linear = |part: u8| {
        let part = f64::from(part) / 255.0;
        if part <= 0.03928 {
            part / 12.92
        } else {
            ((part + 0.055) / 1.055).powf(2.4)
        }
    };
    0.2126 * linear(red) + 0.7152 * linear(green) + 0.0722 * linear(blue)
}

/// Contrast ratio (WCAG 2.1): from 1 to 21.
fn contrast(a: (u8, u8, u8), b: (u8, u8, u8)) -> f64 {
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

#[test]
fn the_contrast_of_black_and_white_is_21() {
    assert!((contrast((0, 0, 0), (255, 255, 255)) - 21.0).abs() < 1e-9);
    assert!((contrast((9, 9, 9), (9, 9, 9)) - 1.0).abs() < 1e-9);
}

#[test]
fn words_that_people_act_on_have_a_contrast_of_four_and_a_half() {
    for role in [
        Role::Within,
        Role::Unproven,
        Role::Outside,
        Role::Stop,
        Role::Check,
        Role::Old,
    ] {
        let style = Theme::colour().style(role);
        let ground = style.bg.and_then(place).expect("a ground of its own");
        let text = style.fg.and_then(place).expect("a colour of its own");
        for (name, palette) in PALETTES {
            let contrast = contrast(palette[ground], palette[text]);
            assert!(contrast >= 4.5, "{role:?} in {name}: {contrast:.2}");
        }
    }
}

#[test]
fn names_of_keys_and_running_text_have_the_colours_of_the_terminal() {
    for role in [
        Role::Key,
        Role::Plain,
        Role::Figure,
        Role::Title,
        Role::Note,
    ] {
        let style = Theme::colour().style(role);
        assert_eq!((style.fg, style.bg), (None, None), "{role:?}");
        assert!(!style.add_modifier.contains(Modifier::DIM), "{role:?}");
    }
}
