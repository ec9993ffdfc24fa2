namespace LiveStems.Analysis.Measuring;

/// <summary>What one stem brings to a song, after its chain and level and before the song bus.</summary>
/// <param name="Name">The stem.</param>
/// <param name="IntegratedLufs">Its own loudness.</param>
/// <param name="LoudnessShare">
/// Its share of the K-weighted energy of all stems while the song passes its gates (ITU-R BS.1770-5), 0 to 1.
/// </param>
/// <param name="PeakShare">
/// Its mean share of the song's highest peaks: its sample at the place of a peak over the sum there; negative where it
/// works against them. All shares together are 1.
/// </param>
public sealed record StemShare(string Name, double IntegratedLufs, double LoudnessShare, double PeakShare);
