using LiveStems.Albums.Model;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Analysis.Delivery;

/// <summary>The limiter that a song bus ends in.</summary>
internal static class SongLimiter
{
    /// <summary>Id of the limiter in the catalogue.</summary>
    public const string Id = "limiter";

    /// <summary>Id of its input gain.</summary>
    public const string GainId = "inputGainDb";

    /// <summary>Id of its ceiling.</summary>
    public const string CeilingId = "ceilingDbtp";

    /// <summary>The slot.</summary>
    /// <param name="song">The song.</param>
    /// <param name="purpose">What it is needed for, to end the message with: "meet a loudness target".</param>
    /// <exception cref="DeliveryException">The bus does not end in a limiter that is wholly on.</exception>
    public static ChainSlot Of(Song song, string purpose)
    {
        ChainSlot? last = song.Bus.Slots.IsEmpty ? null : song.Bus.Slots[^1];
        return last is { Processor: Id, Bypassed: false, MixPercent: 100 } && !song.Bus.Bypassed
            ? last
            : throw new DeliveryException($"the song bus of '{song.Title}' does not end in a limiter that is switched on; add one to {purpose}");
    }

    /// <summary>A limiter with a slot's settings, not yet prepared.</summary>
    /// <param name="slot">The settings.</param>
    /// <param name="driveDb">Gain in dB on top of the input gain of the settings.</param>
    /// <param name="catalogue">Where processors come from.</param>
    public static Processor Create(ChainSlot slot, double driveDb, ProcessorCatalogue catalogue)
    {
        Processor limiter = catalogue.Create(Id)!;
        foreach ((string id, double value) in slot.Parameters)
        {
            int index = limiter.Description.IndexOf(id);
            if (index >= 0)
            {
                limiter.SetParameter(index, value);
            }
        }

        int gain = limiter.Description.IndexOf(GainId);
        limiter.SetParameter(gain, limiter.GetParameter(gain) + driveDb);
        return limiter;
    }
}
