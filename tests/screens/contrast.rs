//! Words that people act on can be read: their contrast on their ground, in the palettes of terminals.

use super::picture;
use kerfmark::folder::ThemeName;
use kerfmark::screens::{Role, Theme};
use ratatui::buffer::Buffer;
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
    ("xterm", picture::SIXTEEN),
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

/// The least contrast of a role in a theme, over all palettes; `None` where the theme sets no colour.
pub fn least(theme: ThemeName, role: Role) -> Option<f64> {
    let style = Theme::of(theme).style(role);
    let (Some(Color::Indexed(ground)), Some(Color::Indexed(text))) = (style.bg, style.fg) else {
        assert_eq!((style.bg, style.fg), (None, None), "{role:?}");
        return None;
    };
    Some(least_of(ground, text))
}

/// The least contrast of two of the 256 colours, over all palettes of the first sixteen.
fn least_of(ground: u8, text: u8) -> f64 {
    let of = |palette: &Palette, index: u8| {
        let own = palette.get(usize::from(index)).copied();
        own.unwrap_or_else(|| picture::indexed(index))
    };
    let all = PALETTES.iter();
    let all = all.map(|(_, palette)| contrast(of(palette, ground), of(palette, text)));
    all.fold(f64::MAX, f64::min)
}

/// The least contrast of a letter or a digit in a frame; `None` where it has no colours.
pub fn least_drawn(buffer: &Buffer) -> Option<f64> {
    let letters = buffer.content.iter().filter(|cell| {
        let mut signs = cell.symbol().chars();
        signs.next().is_some_and(char::is_alphanumeric)
    });
    let ratios = letters.filter_map(|cell| match (cell.bg, cell.fg) {
        (Color::Indexed(ground), Color::Indexed(text)) => Some(least_of(ground, text)),
        _ => None,
    });
    ratios.min_by(f64::total_cmp)
}

/// Roles of lines and patterns, which need less (WCAG 2.1, 1.4.11).
const DRAWN: [Role; 5] = [
    Role::Quiet,
    Role::Steel,
    Role::KeepOut,
    Role::Band,
    Role::Blur,
];

#[test]
fn every_role_can_be_read_on_its_ground_in_every_theme() {
    for theme in [ThemeName::Dark, ThemeName::Light, ThemeName::Sixteen] {
        for role in Role::ALL {
            let needed = if DRAWN.contains(&role) { 3.0 } else { 4.5 };
            let contrast = least(theme, role).expect("colours");
            assert!(contrast >= needed, "{role:?} in {theme:?}: {contrast:.2}");
        }
    }
    assert!(
        Role::ALL
            .iter()
            .all(|role| least(ThemeName::Mono, *role).is_none())
    );
}

#[test]
fn red_is_for_stop_and_outside_alone() {
    let is_red = |(red, green, blue): (u8, u8, u8)| red > 120 && green < 60 && blue < 60;
    for theme in [ThemeName::Dark, ThemeName::Light, ThemeName::Sixteen] {
        for role in Role::ALL {
            let style = Theme::of(theme).style(role);
            let colours = [style.bg, style.fg].into_iter().flatten();
            let red = colours
                .filter_map(|it| match it {
                    Color::Indexed(index) => Some(picture::indexed(index)),
                    _ => None,
                })
                .any(is_red);
            let may_be = matches!(role, Role::Stop | Role::Outside | Role::Old);
            assert_eq!(red, may_be, "{role:?} in {theme:?}");
        }
    }
}

#[test]
fn text_is_never_dim_where_the_ground_is_the_terminals_own() {
    for role in Role::ALL.into_iter().filter(|it| !DRAWN.contains(it)) {
        let style = Theme::of(ThemeName::Mono).style(role);
        let is_dim = style.add_modifier.contains(Modifier::DIM);
        assert!(!is_dim, "{role:?}");
    }
}
