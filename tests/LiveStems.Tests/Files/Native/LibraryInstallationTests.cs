using LiveStems.Files.Native;
using Xunit;

namespace LiveStems.Tests.Files.Native;

public class LibraryInstallationTests
{
    // Lines as /etc/os-release has them (os-release(5)).
    [Theory]
    [InlineData("ID=debian", "", "apt-get install libsndfile1")]
    [InlineData("ID=linuxmint", "ID_LIKE=\"ubuntu debian\"", "apt-get install libsndfile1")]
    [InlineData("ID=fedora", "", "dnf install libsndfile")]
    [InlineData("ID=\"rocky\"", "ID_LIKE=\"rhel centos fedora\"", "dnf install libsndfile")]
    [InlineData("ID=\"opensuse-leap\"", "ID_LIKE=\"suse opensuse\"", "zypper install libsndfile1")]
    [InlineData("ID=arch", "", "pacman -S libsndfile")]
    [InlineData("ID=alpine", "VERSION_ID=3.22", "apk add libsndfile")]
    [InlineData("ID=other", "", "install the package libsndfile")]
    public void TheCommandFollowsTheFamilyOfTheSystem(string id, string like, string expected) =>
        Assert.Equal(expected, LibraryInstallation.OnLinux(["NAME=\"Some system\"", id, like]));

    [Fact]
    public void AMissingLibraryIsOneLineWithTheCommand() => Assert.Equal(
        "is a FLAC file, which needs libsndfile: brew install libsndfile, or convert the file to WAV",
        LibraryInstallation.Needed("a FLAC file", "brew install libsndfile"));
}
