namespace LiveStems.Analysis.Headroom;

/// <summary>What one correction, or one stem's whole treatment, changes at the limiter.</summary>
/// <param name="Subject">What is taken out and put in.</param>
/// <param name="LeftOut">The song with everything in but this.</param>
/// <param name="AddedIn">The song with every correction out but this.</param>
/// <param name="BoughtDb">
/// Bought headroom in LU: how much louder the song comes out with this in than without it, for the same mean reduction of
/// the limiter. Below 0 it costs.
/// </param>
/// <param name="BoughtAloneDb">The same when this is the only correction.</param>
/// <param name="IsFromBefore">
/// True when the row was measured before something else in the song changed: its own stem and the bus are as they were,
/// the rest is not.
/// </param>
public sealed record HeadroomRow(
    HeadroomSubject Subject,
    HeadroomFigures LeftOut,
    HeadroomFigures AddedIn,
    double BoughtDb,
    double BoughtAloneDb,
    bool IsFromBefore);

/// <summary>The headroom account of a song.</summary>
/// <param name="Song">Title of the song.</param>
/// <param name="AllIn">The song as it is.</param>
/// <param name="AllOut">The song with every correction out; levels, pans and alignments stay.</param>
/// <param name="Rows">One for every stem with corrections and for every correction. They need not add up: corrections share work.</param>
public sealed record HeadroomReport(string Song, HeadroomFigures AllIn, HeadroomFigures AllOut, IReadOnlyList<HeadroomRow> Rows);
