using LiveStems.Albums.Journal;
using LiveStems.Albums.Editing;
using LiveStems.Albums.Model;
using Xunit;

namespace LiveStems.Tests.Albums.Journal;

public class AlbumTextsTests
{
    private readonly AlbumTexts texts = new(AlbumText.Of(ExampleAlbum.Album, PlainProcessors.Catalogue), PlainProcessors.Catalogue);

    [Fact]
    public void EveryPatchLeadsFromTheTextBeforeToTheNext()
    {
        string text = AlbumText.Of(ExampleAlbum.Album, PlainProcessors.Catalogue);
        for (int step = 1; step < 20; step++)
        {
            Album album = Gain(-step);
            TextPatch patch = texts.Follow(album);
            text = patch.Apply(text)!;
            Assert.Equal(AlbumText.Of(album, PlainProcessors.Catalogue), text);
            Assert.Equal(JournalFile.DigestOf(text), texts.Digest);
            if (step % 3 == 0)
            {
                texts.Keep();
            }
        }
    }

    [Fact]
    public void WhatTheJournalCouldNotHoldIsForgottenAndTheNextPatchFollowsFromWhatItHolds()
    {
        texts.Follow(Gain(-1));
        texts.Keep();
        string kept = AlbumText.Of(Gain(-1), PlainProcessors.Catalogue);
        for (int attempt = 0; attempt < 3; attempt++)
        {
            texts.Follow(Gain(-2));
            texts.Add(Gain(-3));
            texts.Forget();
            Assert.Equal(JournalFile.DigestOf(kept), texts.Digest);
        }

        Assert.Equal(AlbumText.Of(Gain(-4), PlainProcessors.Catalogue), texts.Follow(Gain(-4)).Apply(kept));
    }

    [Fact]
    public void FollowingADragPutsNoWholeTextsOnTheHeap()
    {
        Album[] states = [Gain(-1), Gain(-2)];
        foreach (Album state in states.Concat(states))
        {
            texts.Follow(state);
            texts.Keep();
        }

        int length = AlbumText.Of(states[0], PlainProcessors.Catalogue).Length;
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int step = 0; step < 10; step++)
        {
            texts.Follow(states[step % 2]);
            texts.Keep();
        }

        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, 10 * length - 1);
    }

    private static Album Gain(double gainDb) => AlbumAddress.Set(ExampleAlbum.Album, FormattableString.Invariant($"Fog/Bass.gainDb = {gainDb}"), PlainProcessors.Catalogue);
}
