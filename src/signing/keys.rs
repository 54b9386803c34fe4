//! OpenSSH's keys and signatures: whose key signs, and whether a signature is one of a statement.

use ssh_key::{Algorithm, HashAlg, LineEnding, PrivateKey, PublicKey, SshSig};
use thiserror::Error;

/// What keeps a signature of a statement from being one of anything else.
pub const NAMESPACE: &str = "kerfmark";

/// Why a key cannot be used.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum KeyError {
    /// Not a private key of OpenSSH, or of another kind.
    #[error(
        "it is not an ed25519 private key of OpenSSH; expected one as `ssh-keygen -t ed25519` makes it"
    )]
    NotAKey,
    /// It has a passphrase, and none was given.
    #[error("it has a passphrase; give it at a terminal, or in KERFMARK_PASSPHRASE")]
    NeedsPassphrase,
    /// It has another passphrase.
    #[error("the passphrase is not that of this key")]
    WrongPassphrase,
    /// It could not sign.
    #[error("it could not sign")]
    Failed,
}

/// A private key, ready to sign.
#[derive(Clone, Debug)]
pub struct SecretKey(PrivateKey);

impl SecretKey {
    /// Reads a private key; `passphrase` is asked for only where the key has one.
    pub fn read(text: &str, passphrase: impl FnOnce() -> Option<String>) -> Result<Self, KeyError> {
        let key = PrivateKey::from_openssh(text.trim_start()).map_err(|_| KeyError::NotAKey)?;
        if key.algorithm() != Algorithm::Ed25519 {
            return Err(KeyError::NotAKey);
        }
        if !key.is_encrypted() {
            return Ok(Self(key));
        }
        let passphrase = passphrase().ok_or(KeyError::NeedsPassphrase)?;
        let key = key
            .decrypt(passphrase)
            .map_err(|_| KeyError::WrongPassphrase)?;
        Ok(Self(key))
    }

    /// The name of the holder of a key, in the text of `signers`, from the key's file without its passphrase.
    pub fn holder(text: &str, signers: &str) -> Option<String> {
        let key = PrivateKey::from_openssh(text.trim_start()).ok()?;
        signer_of(signers, key.public_key())
    }

    /// The name of its holder in the text of `signers`.
    pub fn name(&self, signers: &str) -> Option<String> {
        signer_of(signers, self.0.public_key())
    }

    /// The key's fingerprint.
    pub fn fingerprint(&self) -> String {
        self.0.fingerprint(HashAlg::Sha256).to_string()
    }

    /// The signature of a text, in the form in which `ssh-keygen` reads it.
    pub fn sign(&self, text: &str) -> Result<String, KeyError> {
        let signature = self
            .0
            .sign(NAMESPACE, HashAlg::Sha512, text.as_bytes())
            .map_err(|_| KeyError::Failed)?;
        signature
            .to_pem(LineEnding::LF)
            .map_err(|_| KeyError::Failed)
    }
}

/// One line of `signers`: who may sign with which key.
struct Signer<'t> {
    names: &'t str,
    key: PublicKey,
}

/// The lines of `signers` that count here: keys that are good for this namespace. Lines of authorities and
/// lines that are good for a time alone are not used.
fn signers(text: &str) -> impl Iterator<Item = Signer<'_>> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    text.lines().filter_map(|line| {
        let line = line.trim();
        if line.is_empty() || line.starts_with('#') {
            return None;
        }
        let (names, rest) = line.split_once([' ', '\t'])?;
        let rest = rest.trim_start();
        let (options, key) = if rest.starts_with("ssh-") {
            ("", rest)
        } else {
            options(rest)?
        };
        if !options.is_empty() {
            let (option, listed) = options.split_once('=')?;
            let listed = listed.strip_prefix('"')?.strip_suffix('"')?;
            let is_good = option.eq_ignore_ascii_case("namespaces") && matches(listed, NAMESPACE);
            is_good.then_some(())?;
        }
        // The key and its kind may be parted by a tab.
        let mut parts = key.split_whitespace();
        let key = format!("{} {}", parts.next()?, parts.next()?);
        let key = PublicKey::from_openssh(&key).ok()?;
        Some(Signer {
            names: names.trim_matches('"'),
            key,
        })
    })
}

/// Whether a list of patterns has a name: `*` stands for any letters, `?` for one, and a pattern with `!`
/// before it takes a name out again (PATTERNS in the manual of `ssh_config`).
fn matches(patterns: &str, name: &str) -> bool {
    let mut found = false;
    for pattern in patterns.split(',') {
        match pattern.strip_prefix('!') {
            Some(pattern) if like(pattern.as_bytes(), name.as_bytes()) => return false,
            Some(_) => {}
            None => found |= like(pattern.as_bytes(), name.as_bytes()),
        }
    }
    found
}

fn like(pattern: &[u8], name: &[u8]) -> bool {
    match (pattern.split_first(), name.split_first()) {
        (None, None) => true,
        (Some((b'*', rest)), None) => like(rest, name),
        (Some((b'*', rest)), Some((_, after))) => like(rest, name) || like(pattern, after),
        (Some((b'?', rest)), Some((_, after))) => like(rest, after),
        (Some((letter, rest)), Some((own, after))) => letter == own && like(rest, after),
        (None, Some(_)) | (Some(_), None) => false,
    }
}

/// The options of a line, which may have spaces in quotes, and the key after them.
fn options(rest: &str) -> Option<(&str, &str)> {
    let mut quoted = false;
    let end = rest.find(|c: char| {
        if c == '"' {
            quoted = !quoted;
        }
        c.is_whitespace() && !quoted
    })?;
    let (options, key) = rest.split_at_checked(end)?;
    Some((options, key.trim_start()))
}

/// The name of the one whose key it is.
pub fn signer_of(text: &str, key: &PublicKey) -> Option<String> {
    let mut all = signers(text);
    let found = all.find(|signer| signer.key.key_data() == key.key_data())?;
    let mut names = found.names.split(',');
    names
        .find(|name| !name.contains(['*', '?', '!']))
        .map(str::to_owned)
}

/// Whether a signature is one of this text by a key of this name; the key's fingerprint.
pub(super) fn signed_by(
    signers_text: &str,
    name: &str,
    text: &[u8],
    signature: &str,
) -> Result<String, Bad> {
    let signature = SshSig::from_pem(signature).map_err(|_| Bad::NotASignature)?;
    let of_name = |signer: &Signer<'_>| matches(signer.names, name);
    let mut keys = signers(signers_text).filter(of_name).peekable();
    if keys.peek().is_none() {
        return Err(Bad::UnknownSigner);
    }
    let key = keys
        .find(|signer| signer.key.key_data() == signature.public_key())
        .ok_or(Bad::OtherKey)?;
    key.key
        .verify(NAMESPACE, text, &signature)
        .map_err(|_| Bad::NotOfThisText)?;
    Ok(key.key.fingerprint(HashAlg::Sha256).to_string())
}

/// Why a signature is none.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Bad {
    NotASignature,
    UnknownSigner,
    OtherKey,
    NotOfThisText,
}

#[cfg(test)]
mod tests {
    use super::matches;

    #[test]
    fn names_match_as_openssh_says() {
        for (patterns, name, is) in [
            ("NK", "NK", true),
            ("NK", "NKX", false),
            ("N*", "NK", true),
            ("TM,N?", "NK", true),
            ("*,!NK", "NK", false),
            ("!NK", "TM", false),
            ("kerf*", "kerfmark", true),
            ("*", "", true),
        ] {
            assert_eq!(matches(patterns, name), is, "{patterns} {name}");
        }
    }
}
