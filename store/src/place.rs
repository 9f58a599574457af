//! The folder and the files on the way to SQLite: whose they are, who else may open them, of what kind they are, on what kind of
//! disk they lie, and the lock against a second program. Decides what is refused and what is mended; leaves what is in a file to
//! `open`.
//!
//! Whoever opens a facility's file, to write or only to look, asks [`home_file`] first, so that no question to the program finds
//! good what `run` would refuse.

use std::fs::{self, DirBuilder, File, Metadata, OpenOptions, Permissions};
use std::io;
use std::os::unix::fs::{DirBuilderExt, FileTypeExt, MetadataExt, OpenOptionsExt, PermissionsExt};
use std::path::{Path, PathBuf};

use rustix::fs::FlockOperation;

use crate::StoreError;
use crate::open::beside;

/// Owner only.
pub(crate) const FOLDER_MODE: u32 = 0o700;
pub(crate) const FILE_MODE: u32 = 0o600;
pub(crate) const OTHERS: u32 = 0o077;
/// That its owner may read and write.
const OWNERS: u32 = 0o600;

/// The folder's real path; NOFOLLOW refuses a link anywhere in the path of the file.
pub(crate) fn private_folder(folder: &Path) -> Result<PathBuf, StoreError> {
    let made = DirBuilder::new()
        .recursive(true)
        .mode(FOLDER_MODE)
        .create(folder);
    made.map_err(|why| at(folder, why))?;
    let real = fs::canonicalize(folder).map_err(|why| at(folder, why))?;
    let about = fs::metadata(&real).map_err(|why| at(&real, why))?;
    ours(&real, &about)?;
    let mode = about.mode() & 0o777;
    if mode & OTHERS == 0 {
        return Ok(real);
    }
    // An empty folder, or one of ours, is made private. In any other, somebody may have named by mistake what
    // other programs use as well.
    if !ours_alone(&real)? {
        return Err(StoreError::TooOpen { path: real, mode });
    }
    fs::set_permissions(&real, Permissions::from_mode(FOLDER_MODE))
        .map_err(|why| at(&real, why))?;
    tracing::info!(
        was = %format_args!("{mode:o}"),
        "the data folder, which others could open, was made its owner's alone"
    );
    Ok(real)
}

/// Whether nothing is in the folder but facilities' files.
fn ours_alone(folder: &Path) -> Result<bool, StoreError> {
    for entry in fs::read_dir(folder).map_err(|why| at(folder, why))? {
        let path = entry.map_err(|why| at(folder, why))?.path();
        let kind = path.extension().and_then(|kind| kind.to_str());
        if !matches!(kind, Some("loft" | "loft-wal" | "loft-shm" | "lock")) {
            return Ok(false);
        }
    }
    Ok(true)
}

/// Whether it belongs to the account that we run as. Even the computer's administrator, who may do everything, would leave
/// files behind that the owner cannot open.
fn ours(path: &Path, about: &Metadata) -> Result<(), StoreError> {
    of_account(path, about, rustix::process::geteuid().as_raw())
}

fn of_account(path: &Path, about: &Metadata, account: u32) -> Result<(), StoreError> {
    if about.uid() == account {
        return Ok(());
    }
    Err(StoreError::OtherOwner {
        path: path.to_owned(),
        owner: about.uid(),
        us: account,
    })
}

/// What stands at this path, if it is a plain file. It is looked at before it is opened: a pipe would keep whoever opens it
/// waiting for ever, and a link leads elsewhere.
pub(crate) fn plain_file(path: &Path) -> Result<Metadata, StoreError> {
    let about = fs::symlink_metadata(path).map_err(|why| at(path, why))?;
    plain(path, &about)?;
    Ok(about)
}

fn plain(path: &Path, about: &Metadata) -> Result<(), StoreError> {
    let kind = about.file_type();
    let kind = if kind.is_file() {
        return Ok(());
    } else if kind.is_dir() {
        "a folder"
    } else if kind.is_symlink() {
        "a link to something else"
    } else if kind.is_fifo() {
        "a pipe"
    } else if kind.is_socket() {
        "a socket"
    } else {
        "a device"
    };
    Err(StoreError::Kind {
        path: path.to_owned(),
        kind,
    })
}

/// A facility's file in its folder, before anything opens it: plain, and of the account that the folder belongs to, which is the
/// one that `run` serves as. What SQLite keeps beside it is opened with it, and so must be plain too.
pub(crate) fn home_file(path: &Path) -> Result<Metadata, StoreError> {
    let about = plain_file(path)?;
    let folder = path.parent().unwrap_or(path);
    let folder = fs::metadata(folder).map_err(|why| at(folder, why))?;
    of_account(path, &about, folder.uid())?;
    plain_beside(path)?;
    Ok(about)
}

/// That the account which serves, the folder's, may write the file and what SQLite keeps beside it, as far as their modes say; the
/// computer's administrator may in any case.
pub(crate) fn servable(path: &Path) -> Result<(), StoreError> {
    let mut all = vec![(path.to_owned(), home_file(path)?)];
    for beside in ["-wal", "-shm"].map(|end| beside(path, end)) {
        let about = if_there(plain_file(&beside))?;
        all.extend(about.map(|about| (beside, about)));
    }
    for (path, about) in all {
        if about.uid() != 0 && about.mode() & OWNERS != OWNERS {
            return Err(at(&path, io::ErrorKind::PermissionDenied.into()));
        }
    }
    Ok(())
}

/// What SQLite would open together with the file at `path`.
pub(crate) fn plain_beside(path: &Path) -> Result<(), StoreError> {
    for end in ["-wal", "-shm", "-journal"] {
        if_there(plain_file(&beside(path, end)))?;
    }
    Ok(())
}

/// What was looked at, or nothing where there is none.
fn if_there<T>(looked: Result<T, StoreError>) -> Result<Option<T>, StoreError> {
    match looked {
        Ok(found) => Ok(Some(found)),
        Err(StoreError::Folder { why, .. }) if why.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(fault) => Err(fault),
    }
}

/// A facility's file, made or found, and not yet opened by SQLite.
pub(crate) struct Found {
    /// It, open. To be dropped before SQLite opens it: closing any handle on it would drop SQLite's own locks.
    file: File,
    about: Metadata,
}

/// Creates the file empty and owner-only, before SQLite could create it with the process's usual mode. The WAL and its index take
/// their mode from it.
pub(crate) fn made_or_found(path: &Path) -> Result<Found, StoreError> {
    if_there(home_file(path))?;
    let file = OpenOptions::new()
        .read(true)
        .write(true)
        .create(true)
        .truncate(false)
        .mode(FILE_MODE)
        .custom_flags(nofollow())
        .open(path)
        .map_err(|why| at(path, why))?;
    // Asked again of the open file, so that it cannot be another one by then.
    let about = file.metadata().map_err(|why| at(path, why))?;
    plain(path, &about)?;
    ours(path, &about)?;
    Ok(Found { file, about })
}

impl Found {
    /// How long it is.
    pub(crate) fn size(&self) -> u64 {
        self.about.len()
    }

    /// Whether other accounts can open it, as where it was copied into the folder.
    pub(crate) fn too_open(&self) -> bool {
        self.about.mode() & OTHERS != 0
    }

    /// Makes it its owner's alone, and what SQLite keeps beside it.
    pub(crate) fn tighten(&self, path: &Path) -> Result<(), StoreError> {
        let private = || Permissions::from_mode(FILE_MODE);
        let mode = self.about.mode() & 0o777;
        self.file
            .set_permissions(private())
            .map_err(|why| at(path, why))?;
        // Some disks take every mode and keep none.
        let about = self.file.metadata().map_err(|why| at(path, why))?;
        kept(path.parent().unwrap_or(path), about.mode())?;
        for end in ["-wal", "-shm"] {
            let beside = beside(path, end);
            match fs::set_permissions(&beside, private()) {
                Err(why) if why.kind() != io::ErrorKind::NotFound => return Err(at(&beside, why)),
                Ok(()) | Err(_) => {}
            }
        }
        tracing::info!(
            was = %format_args!("{mode:o}"),
            "a facility's file, which others could open, was made its owner's alone"
        );
        Ok(())
    }
}

/// A new file, owner-only, where there was none.
pub(crate) fn new_file(path: &Path) -> Result<File, StoreError> {
    OpenOptions::new()
        .read(true)
        .write(true)
        .create_new(true)
        .mode(FILE_MODE)
        .custom_flags(nofollow())
        .open(path)
        .map_err(|why| at(path, why))
}

/// Whether a data folder that is there would do, without mending anything.
///
/// # Errors
/// What [`crate::Store::open`] would refuse of the folder.
pub fn inspect(folder: &Path) -> Result<(), StoreError> {
    let about = fs::metadata(folder).map_err(|why| at(folder, why))?;
    if !about.is_dir() {
        return Err(at(folder, io::ErrorKind::NotADirectory.into()));
    }
    ours(folder, &about)?;
    let mode = about.mode() & 0o777;
    if mode & OTHERS != 0 && !ours_alone(folder)? {
        return Err(StoreError::TooOpen {
            path: folder.to_owned(),
            mode,
        });
    }
    takes_files(folder)?;
    local_disk(folder)?;
    keeps_modes(folder)
}

/// Whether a file that is made in the folder for its owner alone is its owner's alone.
fn keeps_modes(folder: &Path) -> Result<(), StoreError> {
    kept(folder, given_mode(folder)?)
}

/// The mode of a file that is made in the folder for its owner alone. One without a name is made, of which nothing is left whatever
/// happens; where the disk has none such, one with a name, which is removed at once.
fn given_mode(folder: &Path) -> Result<u32, StoreError> {
    let nameless = OpenOptions::new()
        .write(true)
        .mode(FILE_MODE)
        .custom_flags(rustix::fs::OFlags::TMPFILE.bits().cast_signed())
        .open(folder);
    let probe = match nameless {
        Ok(probe) => probe,
        Err(_none_such) => {
            // Its ending is among those of a facility's files, so that what a power cut leaves of it makes the folder nobody else's.
            let path = folder.join(format!("{}.probe.lock", std::process::id()));
            let probe = new_file(&path)?;
            fs::remove_file(&path).map_err(|why| at(&path, why))?;
            probe
        }
    };
    let about = probe.metadata().map_err(|why| at(folder, why))?;
    Ok(about.mode())
}

/// Whether a file that was made for its owner alone has such a mode; what the umask takes from the owner is the account's own doing.
fn kept(folder: &Path, mode: u32) -> Result<(), StoreError> {
    let mode = mode & 0o777;
    if mode & OTHERS == 0 {
        return Ok(());
    }
    Err(StoreError::Modes {
        path: folder.to_owned(),
        mode,
    })
}

/// The same of a file in a folder for backups: its disk may be one that gives modes, if it was mounted to give these.
pub(crate) fn kept_of_backups(folder: &Path, mode: u32) -> Result<(), StoreError> {
    kept(folder, mode).map_err(|_others| StoreError::BackupModes {
        path: folder.to_owned(),
        mode: mode & 0o777,
    })
}

/// Whether a folder for backups would do, without making anything. Where it is not there, the folder above it, in which it would be
/// made: that one must be there, because a disk that is not mounted must not be taken for a new folder.
///
/// # Errors
/// What stands in the way of a backup: it is no folder, another account's, takes no files, or makes them everybody's.
pub fn inspect_backups(folder: &Path) -> Result<Option<PathBuf>, StoreError> {
    let Some(above) = made_in(folder)? else {
        own_folder(folder)?;
        kept_of_backups(folder, given_mode(folder)?)?;
        return Ok(None);
    };
    match folder.parent() {
        Some(parent) if or_here(parent) != above => Err(at(parent, io::ErrorKind::NotFound.into())),
        _ => Ok(Some(above)),
    }
}

/// Where a folder would be made that is not there: in the nearest one above it that is. Nothing where it is there.
///
/// # Errors
/// What is on the way to it and is no folder, or cannot be looked at.
pub fn made_in(folder: &Path) -> Result<Option<PathBuf>, StoreError> {
    for path in folder.ancestors().map(or_here) {
        match fs::metadata(path) {
            Ok(_) if path == or_here(folder) => return Ok(None),
            Ok(about) if about.is_dir() => return Ok(Some(path.to_owned())),
            Ok(_) => return Err(at(path, io::ErrorKind::NotADirectory.into())),
            // No folder is made in the place of a link that leads nowhere.
            Err(why) if why.kind() == io::ErrorKind::NotFound && !path.is_symlink() => {}
            Err(why) => return Err(at(path, why)),
        }
    }
    Err(at(folder, io::ErrorKind::NotFound.into()))
}

/// The folder; the current one where a path has no other.
fn or_here(folder: &Path) -> &Path {
    if folder.as_os_str().is_empty() {
        Path::new(".")
    } else {
        folder
    }
}

/// Whether folders can be made in it by the account that we run as.
///
/// # Errors
/// What the system said.
pub fn takes_folders(folder: &Path) -> Result<(), StoreError> {
    use rustix::fs::Access;
    rustix::fs::access(folder, Access::WRITE_OK | Access::EXEC_OK)
        .map_err(|fault| at(folder, fault.into()))
}

/// A folder that is there, is ours, and takes files. Its mode may be the disk's own.
pub(crate) fn own_folder(folder: &Path) -> Result<(), StoreError> {
    let about = fs::metadata(folder).map_err(|why| at(folder, why))?;
    if !about.is_dir() {
        return Err(at(folder, io::ErrorKind::NotADirectory.into()));
    }
    ours(folder, &about)?;
    takes_files(folder)
}

/// Whether files can be read, made and removed in it by the account that we run as.
///
/// # Errors
/// What the system said.
pub(crate) fn takes_files(folder: &Path) -> Result<(), StoreError> {
    use rustix::fs::Access;
    rustix::fs::access(folder, Access::READ_OK | Access::WRITE_OK | Access::EXEC_OK)
        .map_err(|fault| at(folder, fault.into()))
}

/// Bytes that are free for us on the disk of this folder; nothing where the system does not say.
pub fn free_bytes(folder: &Path) -> Option<u64> {
    let disk = rustix::fs::statvfs(folder).ok()?;
    disk.f_bavail.checked_mul(disk.f_frsize)
}

fn nofollow() -> i32 {
    rustix::fs::OFlags::NOFOLLOW.bits().cast_signed()
}

/// The lock on a facility, held until it is dropped. It lives in a file of its own: closing any handle on the data file would
/// drop SQLite's own locks on it.
///
/// Let go of in words and not by closing alone: a program that some other thread is just starting has the handle too, until it
/// is itself, and would hold the lock for that long.
#[derive(Debug)]
pub(crate) struct Lock(pub(crate) File);

impl Drop for Lock {
    fn drop(&mut self) {
        // Where this fails, closing is what is left.
        let _ = rustix::fs::flock(&self.0, FlockOperation::Unlock);
    }
}

/// Takes the lock, or says that somebody holds it.
pub(crate) fn lock(path: PathBuf) -> Result<Lock, StoreError> {
    let file = OpenOptions::new()
        .read(true)
        .write(true)
        .create(true)
        .truncate(false)
        .mode(FILE_MODE)
        .custom_flags(nofollow())
        .open(&path)
        .map_err(|why| at(&path, why))?;
    match rustix::fs::flock(&file, FlockOperation::NonBlockingLockExclusive) {
        Ok(()) => Ok(Lock(file)),
        Err(rustix::io::Errno::WOULDBLOCK) => Err(StoreError::Locked { path }),
        Err(fault) => Err(at(&path, fault.into())),
    }
}

pub(crate) fn at(path: &Path, why: io::Error) -> StoreError {
    StoreError::Folder {
        path: path.to_owned(),
        why,
    }
}

/// Whether it is on a disk of this computer, as far as the system says.
///
/// # Errors
/// [`StoreError::Network`], or what the system said.
#[cfg(target_os = "linux")]
pub fn local_disk(folder: &Path) -> Result<(), StoreError> {
    let handle = File::open(folder).map_err(|why| at(folder, why))?;
    let stat = rustix::fs::fstatfs(&handle).map_err(|fault| at(folder, fault.into()))?;
    // The field's width differs between machines; the numbers are 32 bits everywhere.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "file-system numbers are 32 bits in a field of the machine's own width"
    )]
    match network(stat.f_type as u32) {
        None => Ok(()),
        Some(kind) => Err(StoreError::Network {
            path: folder.to_owned(),
            kind,
        }),
    }
}

/// Whether a file has the same number after the computer was started again, as far as is known. FUSE and layered file systems may
/// make numbers up.
#[cfg(target_os = "linux")]
pub(crate) fn keeps_numbers(path: &Path) -> bool {
    let folder = path.parent().unwrap_or(path);
    let Ok(stat) = rustix::fs::statfs(folder) else {
        return false;
    };
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "file-system numbers are 32 bits in a field of the machine's own width"
    )]
    let magic = stat.f_type as u32;
    !matches!(magic, 0x6573_5546 | 0x794c_7630)
}

/// Nothing is known of other systems' file systems.
#[cfg(not(target_os = "linux"))]
pub(crate) fn keeps_numbers(_path: &Path) -> bool {
    false
}

/// Other systems give no such number; the README tells to use a disk of the computer.
#[cfg(not(target_os = "linux"))]
pub fn local_disk(_folder: &Path) -> Result<(), StoreError> {
    Ok(())
}

/// The file systems on which SQLite's locks or its shared memory do not hold, by the numbers of Linux's
/// `statfs(2)` and `linux/magic.h`. A FUSE mount may be a network or a local disk and does not say; it passes.
#[cfg(target_os = "linux")]
fn network(magic: u32) -> Option<&'static str> {
    match magic {
        0x0000_6969 => Some("NFS"),
        0x0000_517b | 0xff53_4d42 | 0xfe53_4d42 => Some("SMB"),
        0x5346_414f | 0x6b41_4653 => Some("AFS"),
        0x7375_7245 => Some("Coda"),
        0x0000_564c => Some("NCP"),
        0x0102_1997 => Some("9P"),
        0x00c3_6400 => Some("Ceph"),
        0x0bd0_0bd0 => Some("Lustre"),
        0x0116_1970 => Some("GFS2"),
        0x7461_636f => Some("OCFS2"),
        0x786f_4256 => Some("a shared folder of a virtual machine"),
        _ => None,
    }
}

#[cfg(all(test, target_os = "linux"))]
mod tests {
    use super::{
        free_bytes, inspect, inspect_backups, keeps_modes, kept, kept_of_backups, lock, made_in,
        network, takes_files,
    };
    use crate::StoreError;

    /// A second handle on the same open file is what a program has that is just being started.
    #[test]
    fn a_lock_ends_when_it_is_dropped_whoever_else_has_the_handle() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("7.lock");
        let held = lock(path.clone()).unwrap();
        let theirs = held.0.try_clone().unwrap();
        assert!(lock(path.clone()).is_err());
        drop(held);
        assert!(lock(path).is_ok());
        drop(theirs);
    }

    #[test]
    fn a_folder_that_is_not_there_is_made_in_the_nearest_that_is() {
        let there = tempfile::tempdir().unwrap();
        let there = there.path();
        let new = there.join("a/b");
        assert_eq!(made_in(there).unwrap(), None);
        assert_eq!(made_in(&new).unwrap().as_deref(), Some(there));
        assert!(
            inspect_backups(&new).is_err(),
            "its disk may not be mounted"
        );
        let made_in_there = inspect_backups(&there.join("a")).unwrap();
        assert_eq!(made_in_there.as_deref(), Some(there));
        let here = made_in("not-there".as_ref()).unwrap();
        assert_eq!(here.as_deref(), Some(".".as_ref()));
        std::os::unix::fs::symlink("nowhere", there.join("link")).unwrap();
        std::fs::write(there.join("file"), "").unwrap();
        for wrong in ["link", "link/a", "file/a"] {
            assert!(made_in(&there.join(wrong)).is_err(), "{wrong}");
        }
    }

    #[test]
    fn free_room_is_more_than_nothing_and_what_df_says_of_it() {
        let folder = tempfile::tempdir().unwrap();
        let free = free_bytes(folder.path()).unwrap();
        let said = std::process::Command::new("df")
            .args(["--block-size=1", "--output=avail"])
            .arg(folder.path())
            .output()
            .unwrap();
        let said = String::from_utf8(said.stdout).unwrap();
        let said: u64 = said.lines().nth(1).unwrap().trim().parse().unwrap();
        // Others write meanwhile.
        assert!(free.abs_diff(said) < 1 << 30 && free > 0, "{free} {said}");
        assert_eq!(free_bytes("not-there".as_ref()), None);
    }

    /// Outside check: the numbers that `statfs(2)` and `linux/magic.h` list for these and for ext4, xfs, btrfs and tmpfs, from memory.
    #[test]
    fn network_file_systems_are_told_from_local_ones() {
        for (magic, name) in [
            (0x6969, "NFS"),
            (0x517b, "SMB"),
            (0xff53_4d42, "SMB"),
            (0xfe53_4d42, "SMB"),
            (0x5346_414f, "AFS"),
            (0x6b41_4653, "AFS"),
            (0x7375_7245, "Coda"),
            (0x564c, "NCP"),
            (0x0102_1997, "9P"),
            (0x00c3_6400, "Ceph"),
            (0x0bd0_0bd0, "Lustre"),
            (0x0116_1970, "GFS2"),
            (0x7461_636f, "OCFS2"),
            (0x786f_4256, "a shared folder of a virtual machine"),
        ] {
            assert_eq!(network(magic), Some(name), "{magic:#x}");
        }
        for local in [0xef53, 0x5846_5342, 0x9123_683e, 0x0102_1994] {
            assert_eq!(network(local), None, "{local:#x}");
        }
    }

    /// The folder of a disk that gives every file one mode needs a mount, so its answer is judged here, and the question is put to
    /// the disk that there is and to one of the system's, which takes no files whoever asks.
    #[test]
    fn a_disk_that_gives_a_new_file_a_mode_of_its_own_is_refused_and_the_probe_leaves_nothing() {
        let folder = tempfile::tempdir().unwrap();
        let folder = folder.path();
        keeps_modes(folder).unwrap();
        inspect(folder).unwrap();
        assert_eq!(std::fs::read_dir(folder).unwrap().count(), 0);
        assert!(keeps_modes("/proc".as_ref()).is_err());
        assert_eq!(inspect_backups(folder).unwrap(), None);
        assert_eq!(std::fs::read_dir(folder).unwrap().count(), 0);
        assert!(inspect_backups("/proc".as_ref()).is_err());
        for mode in [0o100_755, 0o100_700 | 0o040, 0o100_777] {
            let fault = kept(folder, mode).unwrap_err();
            assert!(matches!(fault, StoreError::Modes { .. }), "{mode:o}");
            let said = fault.to_string();
            assert!(said.contains("a network file system"), "{said}");
            assert!(said.contains(&format!("{:o}", mode & 0o777)), "{said}");
            let said = kept_of_backups(folder, mode).unwrap_err().to_string();
            assert!(said.contains("dir_mode=0700"), "{said}");
            assert!(said.contains(&format!("{:o}", mode & 0o777)), "{said}");
        }
        for mode in [0o100_600, 0o100_700, 0o100_400] {
            assert!(kept(folder, mode).is_ok(), "{mode:o}");
            assert!(kept_of_backups(folder, mode).is_ok(), "{mode:o}");
        }
    }

    #[test]
    fn a_folder_that_is_not_there_or_is_a_file_takes_no_files() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("file");
        std::fs::write(&file, "").unwrap();
        assert!(takes_files(folder.path()).is_ok());
        for wrong in [folder.path().join("not-there"), file.join("a")] {
            assert!(takes_files(&wrong).is_err(), "{}", wrong.display());
        }
    }
}
